// Millimeters or inches: the style sheet shows one of the two by html[data-units].

// bindUnits makes the page follow its select.
export function bindUnits(): void {
  const select = document.getElementById("units") as HTMLSelectElement | null;
  if (!select) return;
  const apply = () => (document.documentElement.dataset.units = select.value);
  apply();
  select.disabled = false;
  select.addEventListener("change", apply);
}
