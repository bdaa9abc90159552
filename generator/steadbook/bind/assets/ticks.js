/* Boxes to tick on the steps of a procedure; the ticks stay on this device until they are reset. */
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

  function start() {
    const steps = document.querySelectorAll(".procedure ol > li");
    if (!steps.length || document.querySelector(".tick-reset")) return;
    steps.forEach((step, number) => {
      const box = document.createElement("input");
      box.type = "checkbox";
      box.className = "step-tick";
      box.checked = Boolean(read()[number]);
      box.setAttribute("aria-label", "Step done: " + step.textContent.trim().slice(0, 60));
      box.addEventListener("change", () => {
        const ticks = read();
        ticks[number] = box.checked;
        write(ticks);
        step.classList.toggle("done", box.checked);
      });
      step.classList.toggle("done", box.checked);
      step.prepend(box);
    });
    const reset = document.createElement("button");
    reset.type = "button";
    reset.className = "tick-reset md-button";
    reset.textContent = "Clear all ticks";
    reset.addEventListener("click", () => {
      write({});
      document.querySelectorAll(".step-tick").forEach((box) => {
        box.checked = false;
        box.closest("li").classList.remove("done");
      });
    });
    document.querySelector(".procedure").append(reset);
  }

  if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", start);
  else start();
})();
