// What only the browser can do: cookies for preferences, and the drawing: pan, zoom, tap, patches.
window.ventwright = {
  keep(name, value) {
    document.cookie = `${name}=${value}; path=/; max-age=31536000; samesite=strict`;
    if (name === "vw-theme") document.documentElement.dataset.theme = value;
    if (name === "vw-touch") document.documentElement.dataset.touch = value;
  },

  focus(id) {
    if (matchMedia("(pointer: fine)").matches) document.getElementById(id)?.focus();
  },

  drawing: (() => {
    let canvas, svg, page, view, whole, pointers, moved, pinch;

    const show = () => svg.setAttribute("viewBox", `${view.x} ${view.y} ${view.w} ${view.h}`);

    const zoomAt = (factor, fx, fy) => {
      const w = Math.min(whole.w, Math.max(whole.w / 12, view.w / factor));
      const h = w * whole.h / whole.w;
      view = { x: view.x + (view.w - w) * fx, y: view.y + (view.h - h) * fy, w, h };
      keepInside();
    };

    const keepInside = () => {
      view.x = Math.min(whole.x + whole.w - view.w, Math.max(whole.x, view.x));
      view.y = Math.min(whole.y + whole.h - view.h, Math.max(whole.y, view.y));
      canvas.classList.toggle("zoomed", view.w < whole.w * 0.999);
      show();
    };

    const share = e => {
      const box = svg.getBoundingClientRect();
      return [(e.clientX - box.left) / box.width, (e.clientY - box.top) / box.height];
    };

    const down = e => {
      if (e.isPrimary) pointers.clear(); // the first finger of a gesture: whatever was missed of the last one is over
      pointers.set(e.pointerId, { x: e.clientX, y: e.clientY });
      moved = 0;
      pinch = 0;
    };

    const move = e => {
      const from = pointers.get(e.pointerId);
      if (!from) return;
      const box = svg.getBoundingClientRect();
      if (pointers.size === 1) {
        moved += Math.abs(e.clientX - from.x) + Math.abs(e.clientY - from.y);
        if (moved > 6 && !canvas.hasPointerCapture(e.pointerId)) canvas.setPointerCapture(e.pointerId);
        view.x -= (e.clientX - from.x) * view.w / box.width;
        view.y -= (e.clientY - from.y) * view.h / box.height;
        keepInside();
      }
      pointers.set(e.pointerId, { x: e.clientX, y: e.clientY });
      if (pointers.size === 2) {
        const [a, b] = [...pointers.values()];
        const apart = Math.hypot(a.x - b.x, a.y - b.y);
        if (pinch) zoomAt(apart / pinch, ((a.x + b.x) / 2 - box.left) / box.width, ((a.y + b.y) / 2 - box.top) / box.height);
        pinch = apart;
        moved = 99;
      }
    };

    // Taps are told from drags here: after a gesture of two fingers browsers do not always make a click of the next tap.
    const up = e => {
      const known = pointers.delete(e.pointerId);
      pinch = 0;
      if (known && e.type === "pointerup" && e.button === 0 && pointers.size === 0 && moved <= 6) tap(e);
    };

    const wheel = e => {
      const zoomed = view.w < whole.w * 0.999;
      if (!e.ctrlKey && !zoomed && e.deltaY > 0) return; // the page scrolls past a drawing that is shown whole
      e.preventDefault();
      zoomAt(Math.exp(-e.deltaY * 0.0016), ...share(e));
    };

    const tap = e => {
      const element = e.target.closest("g[data-key]");
      page.invokeMethodAsync("Tapped", element ? element.dataset.key : "");
    };

    return {
      start(reference) {
        canvas = document.getElementById("canvas");
        svg = canvas?.querySelector("svg");
        if (!svg) return;
        page = reference;
        const box = svg.viewBox.baseVal;
        whole = { x: box.x, y: box.y, w: box.width, h: box.height };
        view = { ...whole };
        pointers = new Map();
        svg.removeAttribute("width");
        svg.removeAttribute("height");
        canvas.addEventListener("pointerdown", down);
        canvas.addEventListener("pointermove", move);
        canvas.addEventListener("pointerup", up);
        canvas.addEventListener("pointercancel", up);
        canvas.addEventListener("wheel", wheel, { passive: false });
        canvas.dataset.ready = "yes";
      },
      stop() {
        canvas = svg = page = undefined;
      },
      zoom(factor) {
        if (!svg) return;
        if (factor === 0) view = { ...whole };
        else zoomAt(factor, 0.5, 0.5);
        keepInside();
      },
      patch(patches) {
        if (!svg) return;
        for (const { key, what, value } of patches) {
          const element = svg.querySelector(`[data-key="${CSS.escape(key)}"]`);
          if (!element) continue;
          if (what === "text") element.textContent = value;
          else element.setAttribute(what, value);
        }
      },
      light(keys, picked) {
        if (!svg) return;
        const lit = new Set(keys);
        svg.toggleAttribute("data-picking", lit.size > 1); // what hangs on nothing alone leaves the rest in sight
        for (const element of svg.querySelectorAll("g[data-key]")) {
          element.toggleAttribute("data-lit", lit.has(element.dataset.key));
          element.toggleAttribute("data-picked", element.dataset.key === picked);
        }
      },
    };
  })(),
};
