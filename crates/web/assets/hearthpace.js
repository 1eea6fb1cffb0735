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
  window.addEventListener("hashchange", openTarget);
  openTarget();
})();
