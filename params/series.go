package params

import (
	"errors"
	"fmt"
	"math/big"
	"slices"
	"strings"
)

// MostValues is how many values one series may have: more rows than that nobody
// reads, and a slip in a step would make millions.
const MostValues = 1000

// Series is a key of the job with the values that it takes in turn; with one value
// it is a plain setting.
type Series struct {
	Key    string
	Kind   Kind
	Values []Setting
}

// ParseSeries reads a setting that may have several values:
//
//	wheel.diameter=60mm..120mm/10mm    a range with both ends and a step
//	wheel.diameter=60..120mm/10        its unit may be stated once
//	wheel.width=5/8 in,20mm            a list; each value has its unit
//	mold.split=open top,clam           words
//
// Ranges are reckoned exactly, so that the end belongs to them whenever whole steps
// lead to it. Free text is never a list. An error says what to write instead; whether
// a value is allowed in the job is left to [Parse].
func ParseSeries(text string) (Series, error) {
	set, err := ParseSetting(text)
	if err != nil {
		return Series{}, err
	}
	path, _, _ := splitIndex(set.Key)
	k, known := keyAt(path)
	if !known {
		return Series{}, unknownKey(path)
	}
	s := Series{Key: set.Key, Kind: k.Kind}
	var values []string
	stepped := false
	switch {
	case k.Kind >= Text:
		values = []string{set.Value}
	case k.Kind < Word && strings.Contains(set.Value, ".."):
		stepped = true
		values, err = rangeOf(k.Kind, unquote(set.Value))
	default:
		values, err = listOf(k, set.Value)
	}
	if err != nil {
		return Series{}, fmt.Errorf("%s=%s %w", set.Key, set.Value, err)
	}
	for _, v := range values {
		s.Values = append(s.Values, Setting{set.Key, v, stepped})
	}
	return s, nil
}

func unknownKey(path string) error {
	if n := nearestKey(path); n != "" {
		return fmt.Errorf("unknown key %q: did you mean %s?", path, n)
	}
	return fmt.Errorf("unknown key %q: wheelmold new lists them all", path)
}

// exactly reads a value in the base unit of its kind.
func exactly(k Kind, text string) (*big.Rat, error) {
	if k > Share {
		return parseNumber(text)
	}
	q, err := ParseQuantity(k, text)
	if err != nil {
		return nil, err
	}
	return q.unit.toBase(q.Number), nil
}

// listOf reads values with commas between. One value is taken as it is.
func listOf(k Key, text string) ([]string, error) {
	if !strings.Contains(strings.Trim(text, `"`), `"`) {
		text = unquote(text)
	}
	values := strings.Split(text, ",")
	if len(values) == 1 {
		return values, nil
	}
	for i, v := range values {
		v = unquote(strings.TrimSpace(v))
		if err := k.judgeListed(v); err != nil {
			return nil, err
		}
		for _, before := range values[:i] {
			if k.same(before, v) {
				return nil, fmt.Errorf("has %s twice", v)
			}
		}
		values[i] = v
	}
	return values, nil
}

// judgeListed refuses what no row could be made with.
func (k Key) judgeListed(v string) error {
	switch {
	case v == "":
		return errors.New("has a comma with nothing beside it")
	case k.Kind == Word && !slices.Contains(k.Options, v):
		if n := nearest(v, k.Options); n != "" {
			return fmt.Errorf("has the unknown word %q: did you mean %q?", v, n)
		}
		return fmt.Errorf("has the unknown word %q: it may be %s", v, strings.Join(k.Options, ", "))
	case k.Kind == Word:
		return nil
	}
	read, err := convertText(k, v)
	if u, ok := read.(unitless); ok {
		err = fmt.Errorf("has no unit: write %q", u.text+" "+unitNames(k.Kind)[0])
	}
	switch {
	case err == nil:
		return nil
	case strings.Contains(v, "/") && k.Kind > Share: // the example of a number would mislead
		return fmt.Errorf("has the value %q: lists hold plain numbers, and a step belongs to a range, as in 1..4/1", v)
	}
	return fmt.Errorf("has the value %q, which %w", v, err)
}

// same reports whether two values that may stand in a list mean the same.
func (k Key) same(a, b string) bool {
	if k.Kind == Word {
		return a == b
	}
	x, _ := exactly(k.Kind, a)
	y, _ := exactly(k.Kind, b)
	return x.Cmp(y) == 0
}

// end is a number of a range, with its unit if it carries one.
type end struct {
	number *big.Rat
	unit   string
}

func (e end) String() string { return plain(e.number) + e.unit }

// readEnd reads one number of a range.
func readEnd(k Kind, text string) (end, error) {
	number, name := splitNumber(text)
	if number == "" {
		return end{}, fmt.Errorf("needs a number where it has %q", text)
	}
	r, err := parseNumber(number)
	if err == nil && strings.Count(number, "/") > 1 {
		err = fmt.Errorf("is no number: %q", number)
	}
	if err != nil {
		return end{}, fmt.Errorf("has %q, which %w", number, err)
	}
	switch {
	case name == "":
		return end{number: r}, nil
	case k > Share:
		return end{}, fmt.Errorf("has the unit %q: %v has none", name, k)
	}
	if _, ok := unitNamed(k, name); !ok {
		return end{}, fmt.Errorf("has %q, which %w", text, unknownUnit(k, number, name))
	}
	return end{r, name}, nil
}

// rangeOf lists the values of "from..to/step".
func rangeOf(k Kind, text string) ([]string, error) {
	left, right, _ := strings.Cut(text, "..")
	from, err := readEnd(k, left)
	if err != nil {
		return nil, err
	}
	to, step, err := endAndStep(k, from, right)
	if err != nil {
		return nil, err
	}
	unit := shared(k, from.unit, to.unit, step.unit)
	if unit == "" && k <= Share {
		u := unitNames(k)[0]
		return nil, fmt.Errorf("has no unit: write one, as in %v%s..%v%s/%v%s", from, u, to, u, step, u)
	}
	a, b, d := from.counted(k, unit, false), to.counted(k, unit, false), step.counted(k, unit, true)
	n, err := steps(k, a, b, d, unit)
	if err != nil {
		return nil, err
	}
	var out []string
	for i := range n {
		v := new(big.Rat).SetInt64(int64(i))
		out = append(out, inRange(k, v.Add(a, v.Mul(v, d)))+unit)
	}
	return out, nil
}

// endAndStep reads what stands behind the dots. Fractions and some units have a slash
// of their own, without spaces: the one before the step is that which leaves a value on
// either side.
func endAndStep(k Kind, from end, text string) (to, step end, err error) {
	type reading struct{ to, step end }
	var all []reading
	for i, c := range text {
		if c != '/' {
			continue
		}
		t, err1 := readEnd(k, text[:i])
		s, err2 := readEnd(k, text[i+1:])
		if err1 == nil && err2 == nil {
			all = append(all, reading{t, s})
		}
	}
	switch len(all) {
	case 1:
		return all[0].to, all[0].step, nil
	case 0:
		return to, step, noStep(k, from, text)
	}
	return to, step, fmt.Errorf("can be read as up to %v in steps of %v, or up to %v in steps of %v: put spaces around the slash before the step",
		all[0].to, all[0].step, all[1].to, all[1].step)
}

// noStep says why nothing behind the dots is an end with a step.
func noStep(k Kind, from end, text string) error {
	to, err := readEnd(k, text)
	if err == nil {
		return fmt.Errorf("has no step: write it behind a slash, as in %v..%v/%s", from, to, sampleStep(from, to))
	}
	i := strings.LastIndexByte(text, '/')
	if i < 0 {
		return err
	}
	if _, e := readEnd(k, text[:i]); e != nil {
		return e
	}
	if _, e := readEnd(k, text[i+1:]); e != nil {
		return e
	}
	return err
}

// sampleStep is a tenth of a range, for a builder to see the form.
func sampleStep(from, to end) string {
	d := new(big.Rat).Sub(to.number, from.number)
	d.Abs(d).Quo(d, big.NewRat(10, 1))
	if d.Sign() == 0 {
		d.SetInt64(1)
	}
	return plain(d) + to.unit
}

// counted is an end in so many of a unit; a step is a difference, for which no scale's
// zero counts.
func (e end) counted(k Kind, unit string, difference bool) *big.Rat {
	if e.unit == "" || e.unit == unit {
		return e.number
	}
	own, _ := unitNamed(k, e.unit)
	other, _ := unitNamed(k, unit)
	if difference {
		own.zero, other.zero = "", ""
	}
	base := own.toBase(e.number)
	if other.zero != "" {
		base.Sub(base, ratOf(other.zero))
	}
	return base.Quo(base, ratOf(other.size))
}

// steps counts the values from a to b in steps of d, both ends included.
func steps(k Kind, a, b, d *big.Rat, unit string) (int, error) {
	switch {
	case d.Sign() <= 0:
		return 0, fmt.Errorf("has the step %s%s: it must be more than zero", plain(d), unit)
	case a.Cmp(b) > 0:
		return 0, fmt.Errorf("runs backward: write the smaller end first, as in %s%s..%s%s/%s%s", plain(b), unit, plain(a), unit, plain(d), unit)
	case k == Count && !(a.IsInt() && d.IsInt()):
		return 0, errors.New("counts in parts: begin and step must be whole")
	}
	n := new(big.Rat).Sub(b, a)
	n.Quo(n, d)
	whole := new(big.Int).Quo(n.Num(), n.Denom())
	if whole.Cmp(big.NewInt(MostValues)) >= 0 {
		return 0, fmt.Errorf("has %v values, more than %d: take a larger step", whole.Add(whole, big.NewInt(1)), MostValues)
	}
	return int(whole.Int64()) + 1, nil
}

// inRange is a value of a range as a setting takes it: plain numbers know no fractions.
func inRange(k Kind, r *big.Rat) string {
	if v, _ := r.Float64(); k > Share {
		return shortest(v)
	}
	return plain(r)
}

// plain writes a number as a decimal, or as a fraction where it is none.
func plain(r *big.Rat) string {
	digits, exact := r.FloatPrec()
	if exact {
		return r.FloatString(digits)
	}
	return r.String()
}

// shared is the unit that the values of a range are written in: its own, or the first
// of the kind where its ends and step carry several. "" if none carries any.
func shared(k Kind, names ...string) string {
	names = slices.DeleteFunc(names, func(s string) bool { return s == "" })
	switch names = slices.Compact(names); len(names) {
	case 0:
		return ""
	case 1:
		return names[0]
	}
	return unitNames(k)[0]
}
