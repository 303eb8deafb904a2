// Large keys for each count, and counts that outlive a closed page: what is
// typed stays in this browser until it is recorded.
"use strict";

const form = document.getElementById("counts");
const unsent = document.getElementById("unsent");

if (form) {
  const place = "counts " + form.dataset.trial + " " + form.dataset.day;
  const fields = [...form.querySelectorAll(".dish input")];
  const begun = new Map(fields.map((field) => [field.name, field.value]));

  const step = (field, by) => {
    field.value = Math.max(0, (parseInt(field.value, 10) || 0) + by);
    field.dispatchEvent(new Event("input", { bubbles: true }));
  };
  for (const number of form.querySelectorAll(".number")) {
    const field = number.querySelector("input");
    for (const [sign, by, word] of [["−", -1, "one fewer"], ["+", 1, "one more"]]) {
      const key = document.createElement("button");
      key.type = "button";
      key.textContent = sign;
      key.setAttribute("aria-label", word + ": " + field.getAttribute("aria-label"));
      key.addEventListener("click", () => step(field, by));
      by < 0 ? field.before(key) : field.after(key);
    }
    number.classList.add("keyed");
  }

  const changed = () => fields.filter((field) => field.value !== begun.get(field.name));
  const tell = () => {
    const dishes = new Set(changed().map((field) => field.closest(".dish").id));
    unsent.textContent = dishes.size === 0 ? "" : dishes.size + (dishes.size === 1 ? " dish" : " dishes") + " not recorded yet";
  };
  const keep = () => {
    const typed = Object.fromEntries(changed().map((field) => [field.name, field.value]));
    try {
      if (Object.keys(typed).length === 0) localStorage.removeItem(place);
      else localStorage.setItem(place, JSON.stringify(typed));
    } catch {
      // A browser that keeps nothing still sends the form.
    }
    tell();
  };

  // A page with a problem, or with what was just recorded, is newer than what is kept.
  const answered = document.querySelector(".said, [role=alert]") !== null;
  try {
    const typed = answered ? null : JSON.parse(localStorage.getItem(place));
    for (const field of fields) {
      if (typed && field.name in typed) field.value = typed[field.name];
    }
    if (answered) localStorage.removeItem(place);
  } catch {
    // What cannot be read is left alone.
  }
  tell();
  form.addEventListener("input", keep);
}
