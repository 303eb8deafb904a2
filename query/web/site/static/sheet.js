// Keys for going through claims and pages, and the marked words in sight. All
// of it can be done with links as well.
"use strict";

const inField = (element) => element.closest("input, textarea, select, [contenteditable]") !== null;

const follow = { ArrowLeft: "previous", ArrowRight: "next", "+": "closer", "=": "closer", "-": "wider" };

document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.altKey || event.metaKey || inField(event.target)) return;
  const print = event.target.closest(".print");
  if (print && event.key.startsWith("Arrow") && print.scrollWidth > print.clientWidth) return;
  const link = document.getElementById(follow[event.key]);
  if (!link) return;
  event.preventDefault();
  link.click();
});

// The text goes to the first mark where there is no picture, and when it is opened.
const mark = document.getElementById("first-mark");
if (mark) {
  const text = mark.closest(".text");
  const toMark = () => (text.scrollTop += mark.getBoundingClientRect().top - text.getBoundingClientRect().top - text.clientHeight / 3);
  mark.closest("details").addEventListener("toggle", toMark);
  toMark();
}

const found = document.getElementById("found");
if (found) {
  const print = found.closest(".print");
  const box = found.getBoundingClientRect();
  const frame = print.getBoundingClientRect();
  print.scrollTop += box.top - frame.top - frame.height / 3;
  print.scrollLeft += box.left - frame.left - frame.width / 4;
}
