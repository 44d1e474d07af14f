// Script makes the pages quicker; they read and work without it.
"use strict";
document.addEventListener("htmx:afterSwap", (event) => {
  if (event.detail.target.id === "margin" && window.matchMedia("(max-width: 60rem)").matches) {
    event.detail.target.scrollIntoView({ block: "nearest" });
  }
});
