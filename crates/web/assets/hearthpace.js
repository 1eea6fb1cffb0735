// Small helps; every page works without them.
(function () {
  "use strict";
  // A link to a closed reason opens it.
  function openTarget() {
    var target = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (target && target.tagName === "DETAILS") {
      target.open = true;
      // Of many reasons that lie together a number shows its own; pressed themselves they show all.
      var many = target.parentElement.closest("details.many");
      if (many) {
        if (!many.open) many.classList.add("one");
        many.open = true;
      }
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
  document.addEventListener("click", function (event) {
    var summary = event.target.closest && event.target.closest("details.many > summary");
    if (summary) summary.parentElement.classList.remove("one");
  });
  // In the margin an open reason lies on top of the others: pressing one closes the one that was open, and so does Escape.
  function closeOthers(but) {
    var open = document.querySelectorAll(".row > .mar > details.bc[open]");
    for (var i = 0; i < open.length; i++) if (!but || !open[i].contains(but)) open[i].open = false;
    return open;
  }
  document.addEventListener("click", function (event) {
    var pressed = event.target.closest && event.target.closest(".mar summary, a.why");
    if (!pressed) return;
    closeOthers(pressed.hash ? document.getElementById(decodeURIComponent(pressed.hash.slice(1))) : pressed);
  });
  document.addEventListener("keydown", function (event) {
    if (event.key !== "Escape") return;
    var closed = closeOthers(null);
    if (closed.length) closed[0].querySelector("summary").focus();
  });
  window.addEventListener("hashchange", openTarget);
  openTarget();
})();
// A form marked with data-follow asks the server what follows from it, and puts the answer in that part of the page.
(function () {
  "use strict";
  var form = document.querySelector("form[data-follow]");
  var part = form && document.getElementById(form.dataset.follow);
  if (!part || !window.fetch || !window.DOMParser) return;
  var newest = 0;
  var timer = 0;
  function ask() {
    var number = ++newest;
    var body = new URLSearchParams(new FormData(form));
    body.set("act", "follow");
    fetch(form.action, { method: "POST", body: body, credentials: "same-origin" })
      .then(function (answer) { return answer.ok ? answer.text() : ""; })
      .then(function (text) {
        if (!text || number !== newest) return;
        var made = new DOMParser().parseFromString(text, "text/html").getElementById(part.id);
        if (made) keepFocus(function () { part.replaceChildren.apply(part, Array.from(made.childNodes)); });
      })
      .catch(function () { /* the button still asks by loading the page */ });
  }
  // The field somebody writes in stays theirs.
  function keepFocus(change) {
    var here = document.activeElement;
    var name = here && part.contains(here) ? here.name : "";
    var at = name && "selectionStart" in here ? here.selectionStart : null;
    change();
    var again = name && form.elements.namedItem(name);
    if (again && again.focus) {
      again.focus({ preventScroll: true });
      if (at !== null && again.setSelectionRange) again.setSelectionRange(at, at);
    }
  }
  form.addEventListener("change", function (event) {
    if (part.contains(event.target) && event.target.name !== "decide") return;
    clearTimeout(timer);
    timer = setTimeout(ask, 250);
  });
  form.addEventListener("submit", function (event) {
    var button = event.submitter;
    if (button && button.value === "follow") { event.preventDefault(); ask(); }
  });
})();
// Leaving a form marked with data-keep asks first, once something was written in it.
(function () {
  "use strict";
  var form = document.querySelector("form[data-keep]");
  if (!form) return;
  var changed = false;
  form.addEventListener("change", function () { changed = true; });
  form.addEventListener("submit", function (event) { if (!event.defaultPrevented) changed = false; });
  window.addEventListener("beforeunload", function (event) { if (changed) event.preventDefault(); });
})();
// Counting the pulse: a dot goes along a line for fifteen seconds, then the beats are asked for. Without it the page says
// how it is done by hand.
(function () {
  "use strict";
  var SECONDS = 15;
  function made(kind, name, words) {
    var one = document.createElement(kind);
    one.className = name;
    if (words) one.textContent = words;
    return one;
  }
  function near(pair) {
    var limit = Number(pair.dataset.pulse);
    var pulse = Number(pair.querySelector("[name^='pulse-']").value);
    var line = pair.parentElement.querySelector(".near");
    if (line) line.classList.toggle("is-near", !!limit && pulse >= limit && !pair.querySelector("[name^='pressure-']").value);
  }
  function count(label, button) {
    var pulse = label.querySelector("input");
    var box = made("div", "counting");
    var line = made("div", "count-line");
    var dot = made("i", "count-dot");
    var said = made("p", "after", "Count the beats until the dot is at the end.");
    said.setAttribute("role", "status");
    line.appendChild(dot);
    box.appendChild(line);
    box.appendChild(said);
    label.parentElement.insertAdjacentElement("afterend", box);
    button.disabled = true;
    var begun = performance.now();
    function step(now) {
      var gone = Math.min(1, (now - begun) / (SECONDS * 1000));
      dot.style.left = gone * 100 + "%";
      if (gone < 1) return void requestAnimationFrame(step);
      ask(box, said, pulse, button);
    }
    requestAnimationFrame(step);
  }
  function ask(box, said, pulse, button) {
    said.textContent = "Fifteen seconds are over.";
    var beats = made("label", "pairing");
    var field = made("input", "field short");
    field.type = "text";
    field.inputMode = "numeric";
    beats.appendChild(made("span", "", "beats counted"));
    beats.appendChild(field);
    box.appendChild(beats);
    field.focus();
    field.addEventListener("change", function () {
      var number = parseInt(field.value, 10);
      if (number > 0) {
        pulse.value = String(number * (60 / SECONDS));
        pulse.dispatchEvent(new Event("change", { bubbles: true }));
      }
      box.remove();
      button.disabled = false;
      pulse.focus();
    });
  }
  var labels = document.querySelectorAll("[data-count]");
  for (var i = 0; i < labels.length; i++) {
    (function (label) {
      var button = made("button", "wordlike", "count 15 seconds");
      button.type = "button";
      button.addEventListener("click", function () { count(label, button); });
      label.insertAdjacentElement("afterend", button);
      var pair = label.parentElement;
      pair.addEventListener("change", function () { near(pair); });
    })(labels[i]);
  }
})();
// Beside the person: one press marks a whole part as good, where nothing else was marked of it.
(function () {
  "use strict";
  document.querySelectorAll("button[data-all-good]").forEach(function (button) {
    button.hidden = false;
    button.addEventListener("click", function () {
      // What is marked is seen.
      var folded = button.closest("section").querySelector("details.folded");
      if (folded) folded.open = true;
      button.closest("section").querySelectorAll("fieldset.brief").forEach(function (turn) {
        var good = turn.querySelector('input[type="radio"][value="good"]');
        if (good && !turn.querySelector('input[type="radio"]:checked')) {
          good.checked = true;
          good.dispatchEvent(new Event("change", { bubbles: true }));
        }
      });
    });
  });
})();
