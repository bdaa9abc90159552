/* Boxes to tick: on the steps of procedures and where a page draws an empty box. The ticks stay on
   this device until they are cleared. */
(function () {
  "use strict";
  const key = "steadbook:" + location.pathname;
  const read = () => {
    try {
      return JSON.parse(localStorage.getItem(key)) || {};
    } catch (error) {
      return {};
    }
  };
  const write = (ticks) => {
    try {
      localStorage.setItem(key, JSON.stringify(ticks));
    } catch (error) {
      /* a device that keeps nothing: the boxes work until the page is closed */
    }
  };

  /* What a box is ticked for: the words of its step, its row or its line. */
  const words = (holder) => (holder ? holder.textContent : "").trim().replace(/\s+/g, " ").slice(0, 60);

  function make(name, label, done) {
    const box = document.createElement("input");
    box.type = "checkbox";
    box.className = "step-tick";
    box.checked = Boolean(read()[name]);
    box.setAttribute("aria-label", label);
    box.addEventListener("change", () => {
      const ticks = read();
      ticks[name] = box.checked;
      write(ticks);
      if (done) done.classList.toggle("done", box.checked);
    });
    if (done) done.classList.toggle("done", box.checked);
    return box;
  }

  function start() {
    const search = document.querySelector(".md-search[role=dialog]");
    if (search) search.setAttribute("aria-label", "Search"); /* the theme leaves it without a name */
    const article = document.querySelector("article");
    if (!article || article.querySelector(".tick-reset")) return;
    const steps = article.querySelectorAll(".procedure ol > li");
    const marks = article.querySelectorAll("span.tick");
    if (!steps.length && !marks.length) return;
    steps.forEach((step, number) => {
      step.prepend(make(number, "Done: " + words(step), step));
    });
    marks.forEach((mark, number) => {
      const row = mark.closest("tr");
      const cell = mark.closest("td");
      const column = cell && row ? row.closest("table").querySelectorAll("th")[cell.cellIndex] : null;
      const what = words(row || mark.parentElement) + (column ? ", " + words(column) : "");
      mark.replaceWith(make("t" + number, "Done: " + what, null));
    });
    const reset = document.createElement("button");
    reset.type = "button";
    reset.className = "tick-reset md-button";
    reset.textContent = "Clear all ticks";
    reset.addEventListener("click", () => {
      write({});
      article.querySelectorAll(".step-tick").forEach((box) => {
        box.checked = false;
        const step = box.closest("li");
        if (step) step.classList.remove("done");
      });
    });
    (article.querySelector(".procedure") || article).append(reset);
  }

  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", start);
  else start();
})();
