// STOP goes by a plain request of its own, so that it works even when the page has lost its connection to the program.
document.addEventListener("click", async event => {
  const button = event.target.closest?.("[data-rig-stop]");
  if (!button) return;
  const lost = document.getElementById("rig-lost");
  const slow = setTimeout(() => lost.hidden = false, 3000);
  try {
    const answer = await fetch("/rig/stop", { method: "POST", cache: "no-store" });
    if (!answer.ok) throw new Error(answer.statusText);
    clearTimeout(slow);
    lost.hidden = true;
  } catch {
    clearTimeout(slow);
    lost.hidden = false;
  }
});
