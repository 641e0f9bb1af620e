// What scripts add to the pages: nothing here is needed to read them or to send a form.
import "./live.js";

document.documentElement.classList.add("scripted");

// Files can be let fall on the form that takes them.
for (const drop of document.querySelectorAll(".drop")) {
  const field = drop.querySelector("input[type=file]");
  drop.addEventListener("dragover", (event) => {
    event.preventDefault();
    drop.classList.add("over");
  });
  drop.addEventListener("dragleave", () => drop.classList.remove("over"));
  drop.addEventListener("drop", (event) => {
    event.preventDefault();
    drop.classList.remove("over");
    field.files = event.dataTransfer.files;
  });
}
