// What scripts add to the pages: nothing here is needed to read them or to send a form.
document.documentElement.classList.add("scripted");
