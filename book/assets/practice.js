/* Practice riders: one at a time, answers looked up in tables that the marking package filled when the book was built.
   This script reads a number and a unit and finds the piece it falls in; it works nothing out. Nothing is sent or stored. */
(function () {
  "use strict";

  const SIGNS = {
    "correct": "✓ Right",
    "recognised misconception": "✗ A slip we know",
    "out of tolerance": "✗ Not this",
    "not gradable": "? Not read",
  };
  const NUMBER = /^[≈~=]?\s*([+-]?)\s*(\d+(?:[.,]\d+)?|[.,]\d+)(?![\d.,'’]|\s+\d)\s*(.*)$/;
  const ELSEWHERE = "This page reads one plain number. Open the worked solution, or take the practice notebook, which also reads sums.";

  const plainUnit = (text) =>
    text
      .replace(/[⁰¹²³⁴]/g, (sign) => String("⁰¹²³⁴".indexOf(sign)))
      .toLowerCase()
      .replace(/º/g, "°")
      .replace(/\^|\*\*/g, "")
      .replace(/[·⋅×.•∙*-]/g, " ")
      .trim()
      .replace(/\s+/g, " ")
      .replace(/\s*\/\s*/g, "/");

  const unread = (text) => ({ state: "not gradable", feedback: text });

  /* A number in the task's unit and whether a unit stood beside it, or words on why it cannot be read. */
  function read(text, task) {
    const typed = text.trim();
    if (!typed) return { problem: "Nothing is written yet. " + task.how + "." };
    const found = NUMBER.exec(typed.replace(/[−–—‐‑]/g, "-").replace(/[\s.;,]+$/, ""));
    if (!found) return { problem: "“" + typed.slice(0, 60) + "” cannot be read here. " + task.how + ". " + ELSEWHERE };
    const [, sign, digits, unit] = found;
    const [whole, part] = digits.split(",");
    if (part && part.length === 3 && whole.length <= 3 && !["", "0"].includes(whole)) {
      return { problem: "“" + digits + "” can mean " + whole + part + " or " + whole + "." + part + ". Write it with a point or without the comma." };
    }
    const value = Number(sign + digits.replace(",", "."));
    if (!unit) return { value: task.share && Math.abs(value) <= task.share ? 100 * value : value, bare: true };
    if (/^[^a-z°%]*\d/i.test(unit)) return { problem: "“" + typed.slice(0, 60) + "” looks like a sum. " + ELSEWHERE };
    const factor = Object.hasOwn(task.units, plainUnit(unit)) ? task.units[plainUnit(unit)] : null;
    if (factor === null) {
      const asked = task.unit ? "The task asks for " + task.unit + "." : "The task asks for a number without a unit.";
      return { problem: "“" + unit.slice(0, 40) + "” is no unit that can be read here. " + asked + " Open the worked solution if you are stuck." };
    }
    return { value: value * factor, bare: false };
  }

  const look = (pieces, value, bare) => pieces.find(([upper]) => upper === null || value <= upper)[bare ? 2 : 1];

  function judgeNumber(form, task, table) {
    const reading = read(form.querySelector("input[type=text]").value, task);
    if (task.kind !== "DirectedChange") {
      return reading.problem ? unread(reading.problem) : look(table, reading.value, reading.bare);
    }
    const way = form.querySelector("input[type=radio]:checked");
    if (way && way.value === "0") {
      const both = form.querySelector("input[type=text]").value.trim();
      return both ? unread("“No change” and a number stand together; write one of them.") : look(table, 0, false);
    }
    if (!way) return unread("Choose a direction first, then write how far.");
    if (reading.problem) return unread(reading.problem);
    if (reading.value < 0) return unread("A direction and a minus stand together; write one of them.");
    return look(table, Number(way.value) * reading.value, reading.bare);
  }

  function judgeLabels(form, task, table) {
    if (task.kind === "Ordering") {
      const order = Array.from(form.querySelectorAll("select"), (select) => select.value);
      if (order.includes("")) return unread("Fill every place first.");
      if (new Set(order).size < order.length) return unread("One letter stands twice; an order needs each once.");
      return table[order.join(" ")] ?? table[""];
    }
    const picked = Array.from(form.querySelectorAll("input:checked, option:checked"), (one) => one.value).filter(Boolean);
    if (!picked.length) return unread("Choose an answer first.");
    if (picked.includes("none")) return picked.length > 1 ? unread("“None” and a letter are ticked together.") : table[""];
    return table[picked.join(" ")];
  }

  function judge(form, task, table, words) {
    const numeric = task.kind === "Quantity" || task.kind === "DirectedChange";
    const said = numeric ? judgeNumber(form, task, table) : judgeLabels(form, task, table);
    if (typeof said !== "number") return said;
    const [state, feedback, page] = words[said];
    return { state, feedback, page, builds: state === "out of tolerance" ? task.builds : [] };
  }

  const make = (name, options = {}, ...children) => {
    const one = Object.assign(document.createElement(name), options);
    one.append(...children);
    return one;
  };

  function show(form, said) {
    const box = form.querySelector(".verdict");
    box.dataset.state = said.state === "correct" ? "right" : said.state === "not gradable" ? "open" : "wrong";
    const lines = [make("p", {}, make("strong", { textContent: SIGNS[said.state] + "." }), " " + said.feedback)];
    if (said.builds && said.builds.length) {
      lines.push(make("p", { textContent: "This page takes “" + said.builds.join("”, “") + "” as answered rightly. Whether yours follows from an earlier slip is judged in the practice notebook only." }));
    }
    if (said.page && said.state !== "correct") {
      const name = said.page[0].toUpperCase() + said.page.slice(1).replace(/-/g, " ");
      lines.push(make("p", {}, "Read again: ", make("a", { href: said.page + ".html", textContent: name }), "."));
    }
    box.replaceChildren(...lines);
  }

  let count = 0;

  function field(type, name, value, text) {
    return make("label", { className: "option practice-pick" }, make("input", { type, name, value }), " " + text);
  }

  function inputs(task, name) {
    const labels = task.labels || [];
    switch (task.kind) {
      case "Choice":
        if (labels.length > 8) return [select("Your answer", labels)];
        return labels.map((label) => field("radio", name, label, label));
      case "ChoiceSet":
        return [...labels.map((label) => field("checkbox", name, label, label)), field("checkbox", name, "none", "none of them")];
      case "Ordering":
        return labels.map((_, place) => select("Place " + (place + 1), labels));
      case "DirectedChange":
        return [
          field("radio", name, "1", task.ways[0]),
          field("radio", name, "-1", task.ways[1]),
          field("radio", name, "0", "no change"),
          written("How far, with its unit (" + task.unit + ")"),
        ];
      default:
        return [written(task.unit ? "Number with its unit (" + task.unit + ")" : "Number")];
    }
  }

  const written = (text) =>
    make("label", { className: "number" }, text + " ", make("input", { type: "text", autocomplete: "off", spellcheck: false, maxLength: 120 }));

  const select = (text, labels) =>
    make("label", { className: "number practice-pick" }, text + " ", make("select", {}, make("option", { value: "", textContent: "–" }), ...labels.map((label) => make("option", { value: label, textContent: label }))));

  function fillable(box, task, table, words) {
    const name = "practice-" + (count += 1);
    const fields = make("fieldset", {}, make("legend", { textContent: "Your answer: " + task.title }), ...inputs(task, name));
    const verdict = make("div", { className: "verdict" });
    verdict.setAttribute("aria-live", "polite");
    const form = make("form", { className: "question practice-form", noValidate: true }, fields, make("button", { type: "submit", textContent: "Check" }), verdict);
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      show(form, judge(form, task, table, words));
    });
    form.addEventListener("input", () => {
      verdict.replaceChildren();
      delete verdict.dataset.state;
    });
    box.insertBefore(form, box.querySelector("details"));
  }

  function fill(fold, rider, data) {
    if (fold.querySelector("form")) return;
    for (const [id, table] of Object.entries(rider)) {
      const box = fold.querySelector(".practice-is-" + CSS.escape(id));
      if (box) fillable(box, data.tasks[id], table, data.words);
    }
  }

  function ready(set) {
    const data = JSON.parse(set.querySelector("script.practice-marks").textContent);
    const folds = Array.from(set.querySelectorAll("details.practice")).filter((fold) => !fold.parentElement.closest("details"));
    const open = (fold) => fill(fold, data.riders[folds.indexOf(fold)], data);
    let waiting = folds.slice(1);
    for (const fold of folds) {
      fold.hidden = fold !== folds[0];
      fold.addEventListener("toggle", () => fold.open && open(fold));
    }
    const another = make("button", { type: "button", className: "practice-another", textContent: "Another rider" });
    another.addEventListener("click", () => {
      const now = folds.find((fold) => !fold.hidden);
      if (!waiting.length) waiting = folds.filter((fold) => fold !== now);
      const [next] = waiting.splice(Math.floor(Math.random() * waiting.length), 1);
      now.hidden = true;
      now.open = false;
      next.hidden = false;
      next.open = true;
      open(next);
      next.querySelector("summary").focus();
    });
    const about = "Open the rider, fill in, check. " + folds.length + " riders are in this page; nothing you type leaves it or is kept.";
    set.prepend(make("p", { className: "practice-bar" }, another, " " + about));
  }

  const start = () => document.querySelectorAll(".practice-set").forEach(ready);
  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", start);
  else start();
})();
