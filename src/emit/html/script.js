"use strict";
(function () {
  function all(selector, within) { return Array.from((within || document).querySelectorAll(selector)); }

  // Dark or bright, until the file is closed.
  var root = document.documentElement;
  var light = document.getElementById("light");
  function isDark() {
    return root.dataset.light ? root.dataset.light === "dark" : matchMedia("(prefers-color-scheme: dark)").matches;
  }
  function show() { light.setAttribute("aria-pressed", String(isDark())); }
  light.hidden = false;
  light.addEventListener("click", function () { root.dataset.light = isDark() ? "bright" : "dark"; show(); });
  show();

  // A table that fits is no stop on the way through by keyboard.
  function stops() {
    all(".scroll").forEach(function (box) {
      if (box.scrollWidth > box.clientWidth) { box.tabIndex = 0; } else { box.removeAttribute("tabindex"); }
    });
  }
  addEventListener("resize", stops);
  stops();

  // One argument of a shell.
  function word(text) {
    return /^[A-Za-z0-9._\/+=-]+$/.test(text) ? text : "'" + text.replace(/'/g, "'\\''") + "'";
  }
  // What was typed, with a point where a decimal comma stands.
  function typedIn(box) { return box.value.trim().replace(/^([-+]?\d*),(\d+)(?![\d.,])/, "$1.$2"); }
  function reading(box) {
    if (box.type === "checkbox") { return box.checked ? "ok" : ""; }
    var text = typedIn(box);
    return /^[-+]?(\d+\.?\d*|\.\d+)$/.test(text) ? text + " " + box.dataset.unit : text;
  }
  function verdict(box) {
    var text = typedIn(box);
    var found = /^([-+]?(?:\d+\.?\d*|\.\d+))\s*(\S*)$/.exec(text);
    var low = box.dataset.low, high = box.dataset.high;
    if (!text || (low === undefined && high === undefined)) { return ""; }
    if (!found || (found[2] && found[2] !== box.dataset.unit)) { return "not judged: type a figure in " + box.dataset.unit; }
    var figure = Number(found[1]);
    var passes = (low === undefined || figure >= Number(low)) && (high === undefined || figure <= Number(high));
    return passes ? "within" : "OUTSIDE: stop, the builder decides";
  }
  function say(place, text) { if (place.textContent !== text) { place.textContent = text; } }

  // A step may be measured on several sheets: its boxes of the same name hold the same, its line tells all of them.
  var steps = new Map();
  all(".sign").forEach(function (form) {
    var step = steps.get(form.dataset.step) || { forms: [], boxes: new Map(), by: [] };
    steps.set(form.dataset.step, step);
    step.forms.push(form);
    step.by.push(form.querySelector("[data-by]"));
    all("[data-key]", form).forEach(function (box) {
      step.boxes.set(box.dataset.key, (step.boxes.get(box.dataset.key) || []).concat(box));
    });
  });
  function tell(step) {
    var typed = [];
    step.boxes.forEach(function (boxes, key) {
      var value = reading(boxes[0]);
      if (value) { typed.push(" --measured " + word(key + "=" + value)); }
      boxes.forEach(function (box) {
        if (box.type !== "checkbox") { say(box.parentNode.querySelector(".verdict"), verdict(box)); }
      });
    });
    var blank = step.boxes.size - typed.length;
    var by = step.by[0].value.trim();
    step.forms.forEach(function (form) {
      var file = form.dataset.commission;
      say(form.querySelector("code"), "kerfbook sign " + word(file[0] === "-" ? "./" + file : file) + " " +
        word(form.dataset.step) + (typed.length ? " --by " + (by ? word(by) : "NAME") + typed.join("") : ""));
      say(form.querySelector(".rest"), typed.length === 0 ?
        "Without values, this line lists what the step wants measured." : blank === 0 ?
        "Every value of this step is there." : "Blank in this step: " + blank + " of " + step.boxes.size + ". A blank box is not a pass.");
      say(form.querySelector(".line [role=status]"), "");
    });
  }
  var touched = false;
  document.addEventListener("input", function (event) {
    touched = true;
    var form = event.target.closest(".sign");
    if (!form) { return; }
    var step = steps.get(form.dataset.step);
    var key = event.target.dataset.key;
    (key === undefined ? step.by : step.boxes.get(key)).forEach(function (box) {
      box.value = event.target.value;
      box.checked = event.target.checked;
    });
    tell(step);
  });
  addEventListener("beforeunload", function (event) { if (touched) { event.preventDefault(); } });

  all("[data-copy]").forEach(function (button) {
    button.hidden = false;
    button.addEventListener("click", function () {
      var line = button.parentNode.querySelector("code");
      var range = document.createRange();
      range.selectNodeContents(line);
      getSelection().removeAllRanges();
      getSelection().addRange(range);
      say(button.parentNode.querySelector("[role=status]"),
        document.execCommand("copy") ? "Copied." : "Selected: copy it by hand.");
    });
  });
})();
