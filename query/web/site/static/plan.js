// The offer beside the form follows what is typed; the button does the same
// without script.
"use strict";

const form = document.getElementById("plan");
const offer = document.getElementById("offer");
const told = document.getElementById("told");

if (form) {
  let asked = null;
  let waiting = 0;

  const ask = async () => {
    const { signal } = (asked = new AbortController());
    const address = form.action + "?" + new URLSearchParams(new FormData(form));
    try {
      const answer = await fetch(address, { signal });
      const text = await answer.text();
      if (signal.aborted) return; // something was typed meanwhile
      const page = new DOMParser().parseFromString(text, "text/html");
      const now = page.getElementById("offer");
      if (!now) throw new Error("no offer");
      offer.replaceChildren(...now.childNodes);
      told.textContent = offer.querySelector("[data-told]")?.dataset.told ?? offer.querySelector(".sentence").textContent;
      for (const field of form.querySelectorAll("[name]")) mark(field, page.getElementById(field.id));
      history.replaceState(null, "", address);
      offer.removeAttribute("aria-busy");
    } catch (failure) {
      if (failure.name === "AbortError") return;
      offer.removeAttribute("aria-busy");
      told.textContent = offer.textContent = "The plan could not be worked out; is hatchlore still running? The button asks again.";
    }
  };

  const hintOf = (page, field) => page.getElementById(field.getAttribute("aria-describedby"));

  // mark shows at a field what the server says is wrong with it.
  const mark = (field, now) => {
    if (!now || !field.id) return;
    const old = hintOf(document, field);
    const hint = hintOf(now.ownerDocument, now);
    if (old) hint ? old.replaceWith(hint) : old.remove();
    else if (hint) field.closest(".entry") ? field.closest(".entry").append(hint) : field.parentElement.after(hint);
    for (const name of ["aria-describedby", "aria-invalid"]) {
      const value = now.getAttribute(name);
      value === null ? field.removeAttribute(name) : field.setAttribute(name, value);
    }
    const folded = field.closest("details");
    if (folded && now.hasAttribute("aria-invalid")) folded.open = true;
  };

  // From the first key on the offer is not that of the form.
  const askIn = (time) => {
    offer.setAttribute("aria-busy", "true");
    asked?.abort();
    clearTimeout(waiting);
    waiting = setTimeout(ask, time);
  };
  form.addEventListener("input", () => askIn(450));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    askIn(0);
  });
}
