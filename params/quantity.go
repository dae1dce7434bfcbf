package params

import (
	"fmt"
	"math/big"
	"slices"
	"strconv"
	"strings"
)

// Kind says what a value measures, and so which units it may carry.
type Kind int

// The kinds; the comment names the unit inside the program.
const (
	Length  Kind = iota // mm
	Angle               // degrees
	Mass                // g
	Volume              // cm³
	Density             // g/cm³
	Share               // a fraction, written in percent
	Number              // a plain number
	Count               // a whole number
	Word                // one of a few words
	Text                // free text
	Tables              // an array of tables
)

// unit is one way to write a kind; size is how much of the base unit it is.
// The first unit of a kind is the one that the program writes.
type unit struct {
	kind  Kind
	size  string // exact, as big.Rat reads it
	names []string
}

// Inch and pound are exact by the international yard and pound agreement of
// 1959; the US gallon is 231 cubic inches, the fluid ounce 1/128 of it.
var units = []unit{
	{Length, "1", []string{"mm"}},
	{Length, "10", []string{"cm"}},
	{Length, "1000", []string{"m"}},
	{Length, "0.001", []string{"um", "µm", "μm"}},
	{Length, "25.4", []string{"in", "inch", "inches", `"`, "″"}},
	{Length, "0.0254", []string{"thou", "mil"}},
	{Length, "304.8", []string{"ft"}},
	{Angle, "1", []string{"deg", "°", "degrees"}},
	{Mass, "1", []string{"g"}},
	{Mass, "1000", []string{"kg"}},
	{Mass, "453.59237", []string{"lb", "lbs"}},
	{Mass, "28.349523125", []string{"oz"}},
	{Volume, "1", []string{"cm3", "cm³", "cc", "ml"}},
	{Volume, "1000", []string{"l"}},
	{Volume, "16.387064", []string{"in3", "in³"}},
	{Volume, "29.5735295625", []string{"fl oz"}},
	{Volume, "3785.411784", []string{"gal"}},
	{Density, "1", []string{"g/cm3", "g/cm³", "g/ml", "kg/l"}},
	{Density, "1/1000", []string{"kg/m3", "kg/m³"}},
	{Density, "453.59237/16.387064", []string{"lb/in3", "lb/in³"}},
	{Density, "453.59237/3785.411784", []string{"lb/gal"}},
	{Share, "1/100", []string{"%"}},
}

// kindNames hold each kind's name, and what a fault tells the builder to write.
var kindNames = map[Kind]struct{ noun, example string }{
	Length:  {"a length", `"90 mm" or "3.5 in"`},
	Angle:   {"an angle", `"2 deg"`},
	Mass:    {"a mass", `"1 kg" or "15 lb"`},
	Volume:  {"a volume", `"500 ml"`},
	Density: {"a density", `"1.04 g/cm3"`},
	Share:   {"a share", `"0.3 %"`},
	Number:  {"a number", `100`},
	Count:   {"a whole number", `4`},
	Word:    {"a word in quotes", `"round"`},
	Text:    {"text in quotes", `"my wheel"`},
	Tables:  {"an array of tables", `[[wheel.groove]]`},
}

// String names the kind with its article.
func (k Kind) String() string { return kindNames[k].noun }

// Quantity is a number with a unit, as it was written.
type Quantity struct {
	Kind   Kind
	Number *big.Rat // as written
	Unit   string   // as written
	text   string
	size   *big.Rat // of the unit, in the kind's base unit
}

// String is the quantity as written, with its value in the base unit beside it
// if that differs.
func (q Quantity) String() string {
	if base := unitNames(q.Kind)[0]; q.size != nil && q.Unit != base {
		return fmt.Sprintf("%s (%s %s)", q.text, shortest(readable(q.Base())), base)
	}
	return q.text
}

// Base is the quantity in the kind's base unit (mm, degrees, g, cm³, g/cm³,
// fraction), rounded once.
func (q Quantity) Base() float64 {
	v, _ := new(big.Rat).Mul(q.Number, q.size).Float64()
	return v
}

func (u unit) rat() *big.Rat {
	over, under, fraction := strings.Cut(u.size, "/")
	r, _ := new(big.Rat).SetString(over)
	if fraction {
		d, _ := new(big.Rat).SetString(under)
		r.Quo(r, d)
	}
	return r
}

// factor is the unit's size as a float64.
func (u unit) factor() float64 {
	f, _ := u.rat().Float64()
	return f
}

func unitNamed(k Kind, name string) (unit, bool) {
	for _, u := range units {
		if u.kind == k && slices.Contains(u.names, name) {
			return u, true
		}
	}
	return unit{}, false
}

// ParseQuantity reads a number with a unit of the given kind: "90 mm",
// "3.5 in", "1/8 in", "1 1/2 in", "-0.02 mm", "0.3 %". Unit names are in lower
// case. An error says what to write instead.
func ParseQuantity(k Kind, text string) (Quantity, error) {
	number, name := splitNumber(text)
	if number == "" {
		return Quantity{}, fmt.Errorf("does not begin with a number: write %s", kindNames[k].example)
	}
	r, err := parseNumber(number)
	if err != nil {
		return Quantity{}, err
	}
	if name == "" {
		return Quantity{}, fmt.Errorf("has no unit: write %q", number+" "+unitNames(k)[0])
	}
	u, ok := unitNamed(k, name)
	if !ok {
		return Quantity{}, unknownUnit(k, number, name)
	}
	return Quantity{Kind: k, Number: r, Unit: name, text: number + " " + name, size: u.rat()}, nil
}

// ParseLength reads a length in mm, exactly.
func ParseLength(text string) (mm float64, err error) {
	q, err := ParseQuantity(Length, text)
	if err != nil {
		return 0, fmt.Errorf("length %q %w", text, err)
	}
	return q.Base(), nil
}

func unitNames(k Kind) []string {
	var names []string
	for _, u := range units {
		if u.kind == k {
			names = append(names, u.names[0])
		}
	}
	return names
}

func unknownUnit(k Kind, number, name string) error {
	if u, ok := unitNamed(k, strings.ToLower(name)); ok {
		return fmt.Errorf("has the unit %q: units are written in lower case, %q", name, number+" "+u.names[0])
	}
	for _, u := range units {
		if slices.Contains(u.names, name) {
			return fmt.Errorf("is %v, not %v: write it in %s", u.kind, k, strings.Join(unitNames(k), ", "))
		}
	}
	return fmt.Errorf("has the unknown unit %q: %v is written in %s", name, k, strings.Join(unitNames(k), ", "))
}

// splitNumber cuts text where the number ends. A number is made of digits,
// signs, points, slashes, commas, spaces before more of them, and an exponent.
func splitNumber(text string) (number, rest string) {
	text = strings.TrimSpace(text)
	end := 0
	for i := 0; i < len(text); i++ {
		switch c := text[i]; {
		case '0' <= c && c <= '9' || c == '.' || c == ',' || c == '_':
			end = i + 1
		case (c == '/' || c == '+' || c == '-') && i+1 < len(text) && text[i+1] != ' ':
		case (c == 'e' || c == 'E') && exponent(text[i+1:]):
		case c == ' ' && end > 0 && i+1 < len(text) && '0' <= text[i+1] && text[i+1] <= '9':
		default:
			return text[:end], strings.TrimSpace(text[end:])
		}
	}
	return text[:end], strings.TrimSpace(text[end:])
}

func exponent(s string) bool {
	s = strings.TrimLeft(s, "+-")
	return s != "" && '0' <= s[0] && s[0] <= '9'
}

// maxDigits bounds the work that a hostile number can cause; the smallest float64
// written in full has about 340 digits.
const maxDigits = 400

// parseNumber reads "12", "1.5", "-0.02", "1/8" and "1 1/2" or "1-1/2" exactly.
func parseNumber(s string) (*big.Rat, error) {
	switch {
	case len(s) > maxDigits:
		return nil, fmt.Errorf("has more than %d digits", maxDigits)
	case strings.Contains(s, ","):
		return nil, fmt.Errorf("has a comma: write the decimal point as in %q", strings.ReplaceAll(s, ",", "."))
	case strings.ContainsAny(s, "eE_"):
		return nil, fmt.Errorf("has an exponent or underscore: write plain digits")
	}
	whole, fraction := "", s
	if i := strings.LastIndexAny(s, " -"); i > 0 && strings.Contains(s, "/") {
		whole, fraction = s[:i], s[i+1:]
	}
	r, err := parseFraction(fraction)
	if err != nil || whole == "" {
		return r, err
	}
	w, ok := new(big.Rat).SetString(whole)
	if !ok || !w.IsInt() || strings.ContainsAny(whole, "./") || r.Sign() < 0 || r.Cmp(big.NewRat(1, 1)) >= 0 {
		return nil, fmt.Errorf("is no number: %q", s)
	}
	if strings.HasPrefix(whole, "-") {
		return w.Sub(w, r), nil
	}
	return w.Add(w, r), nil
}

func parseFraction(s string) (*big.Rat, error) {
	over, under, slash := strings.Cut(s, "/")
	if slash && strings.ContainsAny(s, ".") {
		return nil, fmt.Errorf("is no number: %q", s)
	}
	r, ok := new(big.Rat).SetString(over)
	if !ok {
		return nil, fmt.Errorf("is no number: %q", s)
	}
	if !slash {
		return r, nil
	}
	d, ok := new(big.Rat).SetString(under)
	if !ok || d.Sign() <= 0 {
		return nil, fmt.Errorf("is no fraction: %q", s)
	}
	return r.Quo(r, d), nil
}

// Format writes a value in the kind's base unit so that ParseQuantity returns
// the same float64: the shortest decimal that does.
func Format(k Kind, v float64) string {
	switch k {
	case Number, Count, Tables:
		return shortest(v)
	case Share:
		r, ok := new(big.Rat).SetString(shortest(v))
		if !ok { // NaN or infinite
			return shortest(v) + " %"
		}
		r.Mul(r, big.NewRat(100, 1))
		digits, _ := r.FloatPrec()
		return r.FloatString(digits) + " %"
	}
	return shortest(v) + " " + unitNames(k)[0]
}

// FormatInches writes a length of v mm in inches, to a ten-thousandth.
func FormatInches(v float64) string {
	return shortest(roundTo(v/25.4, 1e4)) + " in"
}

// maxPlain: beyond it, digits are written with an exponent; no length of a
// wheel needs more than a kilometer in mm.
const maxPlain = 1e6

func shortest(v float64) string {
	if v > maxPlain || v < -maxPlain {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}
