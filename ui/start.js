// Starts the compiled page. It stands in a file of its own because the content security policy refuses
// scripts inside the page.
import start from "./ui.js";

// The path is given because wasm-bindgen, used as a library, leaves the usual one out.
start({ module_or_path: new URL("./ui_bg.wasm", import.meta.url) }).catch((cause) => {
  const told = document.createElement("p");
  told.setAttribute("role", "alert");
  told.textContent = "The window could not start. Close it and open it again; nothing that was saved is lost.";
  document.body.replaceChildren(told);
  console.error(cause);
});
