// Papers dropped anywhere on the page, how much of them has been sent, and how far
// their reading is. The form does the same without script.
"use strict";

const form = document.getElementById("add");
const chosen = document.getElementById("papers");
const sent = document.getElementById("sent");
const said = document.getElementById("said");

document.querySelector(".or-drop").hidden = false;

const say = (sentence) => {
  said.textContent = sentence;
  said.hidden = false;
};

const send = (files) => {
  if (files.length === 0) return say("No file was chosen; choose one or more papers.");
  const body = new FormData();
  body.append("token", form.dataset.token);
  for (const file of files) body.append("papers", file);
  const request = new XMLHttpRequest();
  request.open("POST", form.action);
  request.upload.addEventListener("progress", (event) => {
    sent.hidden = false;
    sent.value = event.lengthComputable ? (100 * event.loaded) / event.total : 0;
  });
  request.addEventListener("error", () => say("The papers were not sent; is hatchlore still running? A lot of papers may also be too large."));
  request.addEventListener("load", () => {
    if (request.status < 400) return location.assign("/add");
    const answer = new DOMParser().parseFromString(request.responseText, "text/html").querySelector(".sentence");
    sent.hidden = true;
    say(answer ? answer.textContent : "The papers were refused.");
  });
  request.send(body);
};

form.addEventListener("submit", (event) => {
  event.preventDefault();
  send(chosen.files);
});

// What is being read is asked for anew, beside files that are chosen or sent.
const job = document.getElementById("job");
const follow = async () => {
  try {
    const answer = await fetch("/add");
    const now = new DOMParser().parseFromString(await answer.text(), "text/html").getElementById("job");
    if (now && now.innerHTML !== job.innerHTML) {
      job.replaceChildren(...now.childNodes);
      job.toggleAttribute("data-running", now.hasAttribute("data-running"));
      document.getElementById("told").textContent = job.querySelector("h2")?.textContent ?? "";
    }
  } catch {
    return say("The page does not answer; is hatchlore still running?");
  }
  if (job.hasAttribute("data-running")) setTimeout(follow, 2000);
};
if (job.hasAttribute("data-running")) setTimeout(follow, 2000);

let inside = 0;
const marked = (on) => document.body.classList.toggle("dropping", on);
document.addEventListener("dragenter", () => marked(++inside > 0));
document.addEventListener("dragleave", () => marked(--inside > 0));
document.addEventListener("dragover", (event) => event.preventDefault());
document.addEventListener("drop", (event) => {
  event.preventDefault();
  inside = 0;
  marked(false);
  send(event.dataTransfer.files);
});
