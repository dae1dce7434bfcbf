package params

// Changed lists the keys whose values differ from those of an earlier job, in the order
// in which they are derived: of a groove with its number. What is its default in both
// followed from another value, and is not listed.
func (j *Job) Changed(before *Job) (keys []string) {
	for _, k := range table {
		n, was := k.len(j), k.len(before)
		for i := range min(n, was) {
			if k.get(j, i) != k.get(before, i) && !(k.isDefault(j, i) && k.isDefault(before, i)) {
				keys = append(keys, k.label(i))
			}
		}
	}
	return keys
}
