package params

// Locate fills in where the values that faults name were stated in a job file
// and its overrides: for faults that come after [Parse], when a mold is laid out.
func Locate(faults Faults, name string, src []byte, sets ...Setting) Faults {
	d := read(name, src)
	for _, s := range sets {
		d.override(s)
	}
	return d.located(faults).sorted()
}

// Nearest is the candidate that a misspelled word most likely meant, or "".
func Nearest(word string, candidates []string) string { return nearest(word, candidates) }
