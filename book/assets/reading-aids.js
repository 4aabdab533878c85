/* Small helps that the page can do without: folds open for printing, wide parts can be scrolled by keyboard. */
(function () {
  "use strict";

  function openFoldsForPrint() {
    let closed = [];
    window.addEventListener("beforeprint", () => {
      closed = Array.from(document.querySelectorAll("details.fold:not([open], .practice)"));
      closed.forEach((fold) => { fold.open = true; });
    });
    window.addEventListener("afterprint", () => closed.forEach((fold) => { fold.open = false; }));
  }

  function letKeyboardScroll() {
    for (const box of document.querySelectorAll("div.math, .highlight pre, .pst-scrollable-table-container")) {
      if (box.scrollWidth > box.clientWidth) box.tabIndex = 0;
      else if (box.matches("pre")) box.removeAttribute("tabindex");
    }
  }

  function start() {
    openFoldsForPrint();
    letKeyboardScroll();
    window.addEventListener("resize", letKeyboardScroll);
  }

  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", start);
  else start();
})();
