/* Check yourself: compares a chosen or typed answer with the reasons already in the page. Nothing is sent or stored. */
(function () {
  "use strict";

  const number = (text) => {
    const match = text.trim().replace(",", ".").match(/^[+\u2212-]?\d*\.?\d+(?=\s|[^\d.]|$)/);
    return match ? Number(match[0].replace("\u2212", "-")) : NaN;
  };

  const fits = (value, item, tolerance) => Math.abs(value - Number(item.dataset.value)) <= tolerance + 1e-9;

  function pickedItems(form, items) {
    if (form.dataset.kind !== "number") {
      const chosen = new Set(Array.from(form.querySelectorAll("input:checked"), (input) => input.value));
      return items.filter((item) => chosen.has(item.dataset.answer));
    }
    const value = number(form.querySelector("input").value);
    return items.filter((item) => fits(value, item, Number(form.dataset.tolerance))).slice(0, 1);
  }

  function judge(form) {
    const items = Array.from(form.querySelectorAll(".reasons li"));
    const picked = pickedItems(form, items);
    if (form.dataset.kind === "number" && !picked.length) {
      const typed = number(form.querySelector("input").value);
      return Number.isNaN(typed)
        ? { state: "open", text: "Type a number first, for example 12.5." }
        : { state: "wrong", text: "Not this, and not a slip we know. Open the answer below and compare your steps." };
    }
    if (!picked.length) return { state: "open", text: "Choose an answer first." };
    const wrong = picked.filter((item) => item.classList.contains("wrong"));
    const missed = items.filter((item) => item.classList.contains("right") && !picked.includes(item));
    if (wrong.length) return { state: "wrong", items: wrong };
    if (form.dataset.kind === "choices" && missed.length) {
      return { state: "wrong", text: "Right so far, but not all. " + missed.length + " more belong" + (missed.length === 1 ? "s" : "") + " here." };
    }
    return { state: "right", items: picked };
  }

  function show(form, result) {
    const verdict = form.querySelector(".verdict");
    verdict.replaceChildren();
    verdict.dataset.state = result.state;
    if (result.text) verdict.append(Object.assign(document.createElement("p"), { textContent: result.text }));
    for (const item of result.items || []) {
      for (const part of item.cloneNode(true).children) verdict.append(part.cloneNode(true));
    }
  }

  function ready(form) {
    form.querySelector("button").hidden = false;
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      show(form, judge(form));
    });
    form.addEventListener("input", () => {
      const verdict = form.querySelector(".verdict");
      verdict.replaceChildren();
      delete verdict.dataset.state;
    });
  }

  const start = () => document.querySelectorAll("form.question").forEach(ready);
  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", start);
  else start();
})();
