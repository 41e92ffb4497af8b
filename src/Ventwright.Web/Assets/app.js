// What only the browser can do: cookies for preferences, pan and zoom of the drawing.
window.ventwright = {
  keep(name, value) {
    document.cookie = `${name}=${value}; path=/; max-age=31536000; samesite=strict`;
    if (name === "vw-theme") document.documentElement.dataset.theme = value;
    if (name === "vw-touch") document.documentElement.dataset.touch = value;
  },
  focus(id) {
    document.getElementById(id)?.focus();
  },
};
