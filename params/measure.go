package params

// Measure reads what somebody measured, as a number with a unit of the given kind: its
// value in the kind's base unit, or what is wrong with it, the likely mix-up of units
// included. Name is what the fault calls it; lo and hi are in the base unit.
func Measure(k Kind, name, text string, lo, hi float64) (float64, *Fault) {
	key, none := Key{Path: name, Kind: k, lo: fixed(lo), hi: fixed(hi)}, new(Job)
	v, err := convertText(key, text)
	if err != nil {
		return 0, &Fault{Path: name, Value: text, Allowed: key.allowed(none), Cause: err.Error()}
	}
	if u, ok := v.(unitless); ok {
		u.source = text
		f := key.objectUnitless(none, 0, u)
		f.Allowed = key.allowed(none)
		return 0, &f
	}
	if cause, hint := key.objection(none, v); cause != "" {
		return 0, &Fault{Path: name, Value: text, Allowed: key.allowed(none), Cause: cause, Hint: hint}
	}
	if q, ok := v.(Quantity); ok {
		return q.Base(), nil
	}
	number, _ := v.(float64)
	return number, nil
}

// States reports whether a job file states the value at a path, soundly or not.
func States(src []byte, path string) bool {
	_, ok := read("", src).spots[path]
	return ok
}
