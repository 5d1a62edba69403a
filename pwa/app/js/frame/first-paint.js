// Runs before anything is painted, so that a chosen theme never flashes.
// A plain script, not a module: modules wait for the whole page.
try {
	for (const name of ["theme", "text"]) {
		const chosen = localStorage.getItem("pointsmith." + name);
		if (chosen) document.documentElement.dataset[name] = chosen;
	}
} catch {
	// No storage: the system's theme and the normal text size stand.
}
