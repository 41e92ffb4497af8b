
// The sheet's text field: line numbers with marks, sending the text a moment after it changed, words that fit at the cursor. And downloads.
window.ventwright.sheet = (() => {
  const lineHeight = 24, pause = 350, retry = 2000;
  let area, gutter, list, page, key, most, timer, sending, marked = new Set(), lastLine = 0, chosen = -1, fits = [], word = "";

  const lineOf = index => {
    let line = 1;
    for (let i = area.value.indexOf("\n"); i >= 0 && i < index; i = area.value.indexOf("\n", i + 1)) line++;
    return line;
  };
  const place = () => {
    const at = area.selectionStart;
    return [lineOf(at), at - area.value.lastIndexOf("\n", at - 1)];
  };

  const drawGutter = () => {
    const first = Math.max(0, Math.floor((area.scrollTop - 8) / lineHeight));
    const count = Math.ceil(area.clientHeight / lineHeight) + 1;
    const total = lines();
    gutter.replaceChildren();
    for (let line = first + 1; line <= Math.min(total, first + count); line++) {
      const row = document.createElement("div");
      row.style.top = `${8 + (line - 1) * lineHeight - area.scrollTop}px`;
      row.textContent = marked.has(line) ? `✕ ${line}` : line;
      row.className = marked.has(line) ? "wrong" : "";
      gutter.append(row);
    }
  };
  let counted = 1, countedText = null;
  const lines = () => {
    if (countedText === area.value) return counted;
    countedText = area.value;
    counted = 1;
    for (let i = countedText.indexOf("\n"); i >= 0; i = countedText.indexOf("\n", i + 1)) counted++;
    return counted;
  };

  // What is typed stays in the browser until it is on disk; a text that the workshop got later from elsewhere goes before it.
  const remember = text => {
    try { localStorage.setItem(key, JSON.stringify({ at: Date.now(), text })); } catch { /* no room in the browser: the workshop's own draft has to do */ }
  };
  const remembered = since => {
    try {
      const left = JSON.parse(localStorage.getItem(key));
      return left && left.at > since ? left.text : null;
    } catch { return null; }
  };

  // Sends the text; true once it is on disk. Keeps a copy in the browser until then.
  const send = async () => {
    clearTimeout(timer);
    const text = area.value;
    try {
      if (text.length > most) {
        await page.invokeMethodAsync("TooLarge", text.length);
        return false;
      }
      remember(text);
      const kept = await page.invokeMethodAsync("Typed", DotNet.createJSStreamReference(new TextEncoder().encode(text)), place()[0]);
      if (kept && area.value === text) localStorage.removeItem(key);
      return kept;
    } catch { // the line to the workshop broke: once more when it may be back
      timer = setTimeout(() => sending = send(), retry);
      return false;
    }
  };

  const changed = () => {
    hide();
    drawGutter();
    if (area.value.length < 400000) remember(area.value);
    clearTimeout(timer);
    timer = setTimeout(() => sending = send(), pause);
  };

  let looked;
  const look = line => {
    if (line === lastLine) return;
    lastLine = line;
    clearTimeout(looked);
    looked = setTimeout(() => page?.invokeMethodAsync("At", line).catch(() => { }), 180);
  };
  const moved = () => { if (document.activeElement === area) look(place()[0]); };
  const hover = e => {
    const line = Math.floor((e.offsetY - 8 + area.scrollTop) / lineHeight) + 1;
    if (e.pointerType === "mouse" && line <= lines()) look(line);
  };

  const insert = (from, to, text) => {
    area.focus();
    area.setSelectionRange(from, to);
    if (!document.execCommand("insertText", false, text)) {
      area.setRangeText(text, from, to, "end");
      changed();
    }
  };

  const hide = () => {
    list.hidden = true;
    chosen = -1;
    area.removeAttribute("aria-activedescendant");
  };
  const choose = index => {
    chosen = (index + fits.length) % fits.length;
    [...list.children].forEach((item, i) => item.setAttribute("aria-selected", i === chosen));
    const item = list.children[chosen];
    area.setAttribute("aria-activedescendant", item.id);
    item.scrollIntoView({ block: "nearest" });
  };
  const accept = index => {
    const at = area.selectionStart, text = fits[index].insert;
    hide();
    insert(at - word.length, at, text);
    if (text.startsWith("{")) {
      const first = at - word.length + text.indexOf(": ") + 2;
      area.setSelectionRange(first, first);
    }
  };
  const show = () => {
    list.replaceChildren(...fits.map((fit, i) => {
      const item = document.createElement("li");
      item.id = `fit-${i}`;
      item.setAttribute("role", "option");
      const name = document.createElement("b"), what = document.createElement("small");
      name.textContent = fit.text;
      what.textContent = fit.what;
      item.append(name, what);
      item.addEventListener("pointerdown", e => e.preventDefault());
      item.addEventListener("click", () => accept(i));
      return item;
    }));
    if (fits.length === 0) {
      const none = document.createElement("li");
      none.setAttribute("role", "option");
      none.setAttribute("aria-disabled", "true");
      none.textContent = "Nothing is known to fit here";
      list.append(none);
    }
    const [line, column] = place(), top = 8 + line * lineHeight - area.scrollTop;
    list.style.left = `${Math.min(area.offsetLeft + 8 + (column - 1) * 8.4 - area.scrollLeft, area.offsetLeft + area.clientWidth - 340)}px`;
    list.hidden = false;
    list.style.top = `${top + list.offsetHeight > area.clientHeight ? Math.max(0, top - lineHeight - list.offsetHeight) : top}px`;
    if (fits.length > 0) choose(0);
  };
  const complete = async () => {
    area.focus();
    clearTimeout(timer);
    if (!await (sending = send())) return;
    const [line, column] = place(), at = area.selectionStart;
    word = area.value.slice(0, at).match(/[^ \t\n,\[\]{}:"]*$/)[0];
    fits = await page.invokeMethodAsync("Fits", line, column);
    const seen = 8 + (line - 1) * lineHeight;
    if (seen < area.scrollTop || seen > area.scrollTop + area.clientHeight - 3 * lineHeight) {
      area.scrollTop = Math.max(0, seen - area.clientHeight / 3);
      await new Promise(done => requestAnimationFrame(() => setTimeout(done))); // its scroll event comes before the list is shown
    }
    if (area.selectionStart === at) show();
  };

  const keys = e => {
    if (e.key === " " && e.ctrlKey) {
      e.preventDefault();
      complete();
      return;
    }
    if (!list.hidden) {
      if (e.key === "ArrowDown" || e.key === "ArrowUp") choose(chosen + (e.key === "ArrowDown" ? 1 : -1));
      else if ((e.key === "Enter" || e.key === "Tab") && chosen >= 0) accept(chosen);
      else if (e.key === "Escape") hide();
      else return;
      e.preventDefault();
      return;
    }
    if (e.key === "Enter" && !e.ctrlKey && !e.shiftKey) {
      const at = area.selectionStart, start = area.value.lastIndexOf("\n", at - 1) + 1;
      const before = area.value.slice(start, at), indent = before.match(/^ */)[0] + (/:\s*$/.test(before) ? "  " : "");
      e.preventDefault();
      insert(at, area.selectionEnd, "\n" + indent);
    }
  };

  const textOf = async stream => new TextDecoder().decode(await stream.arrayBuffer());

  return {
    async start(stream, reference, id, largest, touched) {
      area = document.getElementById("sheet-text");
      [gutter, list] = [area.previousElementSibling, area.nextElementSibling];
      [page, key, most] = [reference, `vw-sheet-${id}`, largest];
      const text = await textOf(stream), left = remembered(touched);
      area.value = left ?? text;
      area.addEventListener("input", changed);
      area.addEventListener("scroll", () => { hide(); drawGutter(); });
      area.addEventListener("keydown", keys);
      area.addEventListener("blur", () => setTimeout(() => { if (document.activeElement !== area) hide(); }, 200));
      area.addEventListener("pointermove", hover);
      area.addEventListener("pointerleave", moved);
      document.addEventListener("selectionchange", moved);
      new ResizeObserver(drawGutter).observe(area);
      drawGutter();
      area.dataset.ready = "yes";
      if (left !== null && left !== text) sending = send(); // what had not reached the workshop when the page was left
    },
    async put(stream) {
      const text = await textOf(stream);
      insert(0, area.value.length, text);
      area.setSelectionRange(0, 0);
      area.scrollTop = 0;
    },
    stop() {
      document.removeEventListener("selectionchange", moved);
      clearTimeout(timer);
      page = undefined;
    },
    mark(wrong) {
      marked = new Set(wrong);
      if (area) drawGutter();
    },
    go(line, column) {
      let at = 0;
      for (let i = 1; i < line; i++) at = area.value.indexOf("\n", at) + 1;
      at += Math.max(0, column - 1);
      area.focus();
      area.setSelectionRange(at, at);
      area.scrollTop = Math.max(0, (line - 4) * lineHeight);
      area.scrollLeft = Math.max(0, column * 8.4 - area.clientWidth * 0.7);
      lastLine = 0;
      moved();
    },
    async flush() {
      return await (sending = send());
    },
    complete,
  };
})();

window.ventwright.paper = {
  async save(name, stream) {
    const address = URL.createObjectURL(new Blob([await stream.arrayBuffer()], { type: "application/pdf" }));
    const link = document.createElement("a");
    [link.href, link.download] = [address, name];
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(address), 60000);
  },
  focus(id) {
    const field = document.getElementById(id);
    field?.focus();
    field?.scrollIntoView({ block: "center", behavior: matchMedia("(prefers-reduced-motion: reduce)").matches ? "auto" : "smooth" });
  },
};
