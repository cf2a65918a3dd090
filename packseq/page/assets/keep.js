"use strict";
// Keeps what is ticked or filled in, in this browser, for this page. A browser that keeps nothing still shows it.
(() => {
  const key = "packseq sheet " + document.title;
  const fields = document.querySelectorAll("input[id]");
  let kept = {};
  try { kept = JSON.parse(localStorage.getItem(key)) || {}; } catch { kept = {}; }
  for (const field of fields) {
    const said = kept[field.id];
    if (field.type === "checkbox") field.checked = said === true;
    else if (typeof said === "string") field.value = said;
    field.addEventListener("change", () => {
      kept[field.id] = field.type === "checkbox" ? field.checked : field.value;
      try { localStorage.setItem(key, JSON.stringify(kept)); } catch { /* private window: nothing is kept */ }
    });
  }
})();
