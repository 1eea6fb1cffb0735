// Small helps; every page works without them.
(function () {
  "use strict";
  // A link to a closed reason opens it.
  function openTarget() {
    var target = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (target && target.tagName === "DETAILS") {
      target.open = true;
      var summary = target.querySelector("summary");
      if (summary) summary.focus({ preventScroll: true });
    }
  }
  // While a reason is open, its number is marked and, in a list of limits, joined to it by a thread.
  document.addEventListener("toggle", function (event) {
    var reason = event.target;
    if (!reason.id || reason.id.indexOf("because-") !== 0) return;
    var links = document.querySelectorAll('a.why[href="#' + reason.id + '"]');
    for (var i = 0; i < links.length; i++) {
      links[i].classList.toggle("is-open", reason.open);
      var line = links[i].closest(".lims > div");
      if (line) line.classList.toggle("open", !!line.querySelector(".is-open"));
    }
  }, true);
  // A second press on the same number opens its reason again.
  document.addEventListener("click", function (event) {
    var link = event.target.closest && event.target.closest("a.why");
    if (link && link.hash === location.hash) openTarget();
  });
  window.addEventListener("hashchange", openTarget);
  openTarget();
})();
