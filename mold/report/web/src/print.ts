// Buttons that print the page, or the bench sheet alone.

// bindPrint binds every [data-print]: "sheet" or "all".
export function bindPrint(): void {
  for (const button of document.querySelectorAll<HTMLButtonElement>("button[data-print]")) {
    button.disabled = false;
    button.addEventListener("click", () => print(button.dataset.print === "sheet"));
  }
}

function print(sheetOnly: boolean): void {
  const { classList } = document.documentElement;
  classList.toggle("only-sheet", sheetOnly);
  // Some browsers return from print() before they have printed.
  addEventListener("afterprint", () => classList.remove("only-sheet"), { once: true });
  window.print();
}
