package params

// Validate judges a resolved job, also one made in code: every value against
// its range, and whether the features can exist together. All faults are
// reported at once; a value out of its range is replaced by its default before
// the features are judged.
func (j *Job) Validate() Faults {
	_, faults := resolve(j.values())
	return faults
}
