// Shows how far a long upload has come; without it the browser's own sign does.
for (const form of document.querySelectorAll("[data-upload]")) {
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const button = form.querySelector("button");
    const bar = document.createElement("progress");
    bar.max = 1;
    bar.value = 0;
    bar.setAttribute("aria-label", "sent so far");
    button.disabled = true;
    button.after(bar);
    const request = new XMLHttpRequest();
    request.open("POST", form.action);
    request.upload.onprogress = (e) => {
      if (!e.lengthComputable) return;
      bar.value = e.loaded / e.total;
      // Once all is sent, the server reads it; how long is not known.
      if (e.loaded === e.total) bar.removeAttribute("value");
    };
    request.onload = () => {
      if (request.responseURL && request.responseURL !== form.action) {
        location.assign(request.responseURL);
        return;
      }
      const page = new DOMParser().parseFromString(request.responseText, "text/html");
      document.querySelector("main").replaceWith(page.querySelector("main"));
      document.title = page.title;
      window.scrollTo(0, 0);
    };
    request.onerror = () => {
      bar.remove();
      button.disabled = false;
      const told = document.createElement("p");
      told.className = "note warn";
      told.setAttribute("role", "alert");
      told.textContent = "The server did not answer. Look whether it is still running, then send it again.";
      button.after(told);
    };
    request.send(new FormData(form));
  });
}
