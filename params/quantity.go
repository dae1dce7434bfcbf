package params

import (
	"fmt"
	"math"
	"math/big"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Kind says what a value measures, and so which units it may carry.
type Kind int

// The kinds; the comment names the unit inside the program.
const (
	Length      Kind = iota // mm
	Angle                   // degrees
	Mass                    // g
	Volume                  // cm³
	Density                 // g/cm³
	Time                    // s
	Viscosity               // Pa·s, dynamic
	Torque                  // N·m
	Force                   // N
	Stress                  // Pa, also a modulus
	Tension                 // N/m, of a surface
	Temperature             // °C
	Expansion               // 1/K, linear, by heat
	Share                   // a fraction, written in percent
	Number                  // a plain number
	Count                   // a whole number
	Word                    // one of a few words
	Text                    // free text
	Tables                  // an array of tables
)

// unit is one way to write a kind: so many units are so many times size, plus
// zero, in the kind's base unit. The program writes a value in the last of the
// kind's handy units in which it is a decimal that is not too small, else in the first
// unit of the kind; that one must be a power of ten of the base unit.
type unit struct {
	kind  Kind
	size  string // exact, as ratOf reads it
	names []string
	zero  string // where the unit's scale begins; "": where the base unit's does
	handy bool
	least int64 // so many at least read well in a handy unit; 0: one
}

// Inch and pound are exact by the international yard and pound agreement of
// 1959; the US gallon is 231 cubic inches, the quart a quarter of it and the fluid ounce 1/128. The
// pound-force is the pound's weight under the standard gravity of 1901,
// 9.80665 m/s²; poise and dyne are the CGS units.
var units = []unit{
	{kind: Length, size: "1", names: []string{"mm"}},
	{kind: Length, size: "10", names: []string{"cm"}},
	{kind: Length, size: "1000", names: []string{"m"}},
	{kind: Length, size: "0.001", names: []string{"um", "µm", "μm"}},
	{kind: Length, size: "25.4", names: []string{"in", "inch", "inches", `"`, "″"}},
	{kind: Length, size: "0.0254", names: []string{"thou", "mil"}},
	{kind: Length, size: "304.8", names: []string{"ft"}},
	{kind: Angle, size: "1", names: []string{"deg", "°", "degrees"}},
	{kind: Mass, size: "1", names: []string{"g"}},
	{kind: Mass, size: "1000", names: []string{"kg"}},
	{kind: Mass, size: "453.59237", names: []string{"lb", "lbs"}},
	{kind: Mass, size: "28.349523125", names: []string{"oz"}},
	{kind: Volume, size: "1", names: []string{"cm3", "cm³", "cc", "ml"}},
	{kind: Volume, size: "1000", names: []string{"l"}},
	{kind: Volume, size: "16.387064", names: []string{"in3", "in³"}},
	{kind: Volume, size: "29.5735295625", names: []string{"fl oz"}},
	{kind: Volume, size: "946.352946", names: []string{"qt"}},
	{kind: Volume, size: "3785.411784", names: []string{"gal"}},
	{kind: Density, size: "1", names: []string{"g/cm3", "g/cm³", "g/ml", "kg/l"}},
	{kind: Density, size: "1/1000", names: []string{"kg/m3", "kg/m³"}},
	{kind: Density, size: "453.59237/16.387064", names: []string{"lb/in3", "lb/in³"}},
	{kind: Density, size: "453.59237/3785.411784", names: []string{"lb/gal"}},
	{kind: Time, size: "1", names: []string{"s", "sec", "seconds", "second"}},
	{kind: Time, size: "60", names: []string{"min", "minutes", "minute"}, handy: true},
	{kind: Time, size: "3600", names: []string{"h", "hours", "hour"}, handy: true},
	{kind: Time, size: "86400", names: []string{"d", "days", "day"}, handy: true, least: 2},
	{kind: Viscosity, size: "1", names: []string{"Pa*s", "Pa·s", "Pas"}},
	{kind: Viscosity, size: "1/1000", names: []string{"mPa*s", "mPa·s", "mPas"}},
	{kind: Viscosity, size: "1/1000", names: []string{"cP", "cps", "cPs"}},
	{kind: Viscosity, size: "1/10", names: []string{"P"}},
	{kind: Torque, size: "1", names: []string{"N*m", "N·m", "Nm"}},
	{kind: Torque, size: "1.3558179483314004", names: perPound("ft")}, // lbf · 0.3048 m
	{kind: Torque, size: "0.1129848290276167", names: perPound("in")}, // lbf · 0.0254 m
	{kind: Torque, size: "1/100", names: []string{"N*cm", "N·cm", "Ncm"}},
	{kind: Force, size: "1", names: []string{"N"}},
	{kind: Force, size: "1000", names: []string{"kN"}, handy: true},
	{kind: Force, size: "4.4482216152605", names: []string{"lbf"}},
	{kind: Stress, size: "1", names: []string{"Pa"}},
	{kind: Stress, size: "1000", names: []string{"kPa"}, handy: true},
	{kind: Stress, size: "1000000", names: []string{"MPa"}, handy: true},
	{kind: Stress, size: "1000000000", names: []string{"GPa"}, handy: true},
	{kind: Stress, size: "4448221.6152605/645.16", names: []string{"psi"}}, // lbf/in²
	{kind: Stress, size: "4448221615.2605/645.16", names: []string{"ksi"}},
	{kind: Stress, size: "100000", names: []string{"bar"}},
	{kind: Tension, size: "1/1000", names: []string{"mN/m"}},
	{kind: Tension, size: "1/1000", names: []string{"dyn/cm"}},
	{kind: Tension, size: "1", names: []string{"N/m"}},
	{kind: Temperature, size: "1", names: []string{"C", "°C", "deg C"}},
	{kind: Temperature, size: "5/9", names: []string{"F", "°F", "deg F"}, zero: "-160/9"},
	{kind: Expansion, size: "1/1000000", names: []string{"ppm/K", "ppm/C", "ppm/°C"}},
	{kind: Expansion, size: "1/1000000", names: []string{"um/m/K", "µm/m/K", "μm/m/K", "um/m/C", "µm/m/°C", "μm/m/°C"}},
	{kind: Expansion, size: "9/5000000", names: []string{"ppm/F", "ppm/°F"}},
	{kind: Share, size: "1/100", names: []string{"%"}},
}

// perPound are the ways in which wrenches and data sheets write a torque in
// pounds-force at an arm of a foot or an inch; the first is the program's own.
func perPound(arm string) []string {
	return []string{arm + "*lb", arm + "·lb", arm + "-lb", arm + "lb", arm + "-lbs", arm + "*lbf", arm + "·lbf", arm + "-lbf",
		"lb*" + arm, "lb·" + arm, "lb-" + arm, "lbf*" + arm, "lbf·" + arm, "lbf-" + arm}
}

// kindNames hold each kind's name, and what a fault tells the builder to write.
var kindNames = map[Kind]struct{ noun, example string }{
	Length:      {"a length", `"90 mm" or "3.5 in"`},
	Angle:       {"an angle", `"2 deg"`},
	Mass:        {"a mass", `"1 kg" or "15 lb"`},
	Volume:      {"a volume", `"500 ml"`},
	Density:     {"a density", `"1.04 g/cm3"`},
	Time:        {"a time", `"20 min" or "90 s"`},
	Viscosity:   {"a viscosity", `"0.8 Pa*s" or "800 cP"`},
	Torque:      {"a torque", `"5 N*m" or "4 ft*lb"`},
	Force:       {"a force", `"300 N"`},
	Stress:      {"a stress", `"150 MPa" or "2 GPa"`},
	Tension:     {"a surface tension", `"35 mN/m"`},
	Temperature: {"a temperature", `"23 C" or "73 F"`},
	Expansion:   {"an expansion by heat", `"175 ppm/K"`},
	Share:       {"a share", `"0.3 %"`},
	Number:      {"a number", `100`},
	Count:       {"a whole number", `4`},
	Word:        {"a word in quotes", `"round"`},
	Text:        {"text in quotes", `"my wheel"`},
	Tables:      {"an array of tables", `[[wheel.groove]]`},
}

// String names the kind with its article.
func (k Kind) String() string { return kindNames[k].noun }

// Quantity is a number with a unit, as it was written.
type Quantity struct {
	Kind   Kind
	Number *big.Rat // as written
	Unit   string   // as written
	text   string
	unit   unit

	stepped bool // as of [Setting]
}

// String is the quantity as written, and beside it as the program would write
// it if the unit is not one of its own.
func (q Quantity) String() string {
	if own := firstUnit(q.Kind); q.Number == nil || q.unit.handy || slices.Contains(own.names, q.Unit) {
		return q.text
	}
	return fmt.Sprintf("%s (%s)", q.text, q.Kind.legibly(q.Base()))
}

// legibly writes a value that was reckoned, for display: a length to a ten-
// thousandth of a millimeter, as finely as molds are made, all else to four digits.
func (k Kind) legibly(v float64) string {
	switch {
	case k >= Number:
		return Format(k, v)
	case k == Length:
		return Format(k, readable(v))
	}
	four, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64)
	return Format(k, four)
}

// Base is the quantity in the kind's base unit (mm, degrees, g, cm³, g/cm³, s,
// Pa·s, N·m, N, Pa, N/m, °C, 1/K, fraction), rounded once.
func (q Quantity) Base() float64 {
	v, _ := q.unit.toBase(q.Number).Float64()
	return v
}

// toBase is so many of the unit in the base unit.
func (u unit) toBase(number *big.Rat) *big.Rat {
	r := new(big.Rat).Mul(number, ratOf(u.size))
	if u.zero != "" {
		r.Add(r, ratOf(u.zero))
	}
	return r
}

// ratOf reads a decimal, or a fraction of two, exactly.
func ratOf(s string) *big.Rat {
	over, under, fraction := strings.Cut(s, "/")
	r, _ := new(big.Rat).SetString(over)
	if fraction {
		d, _ := new(big.Rat).SetString(under)
		r.Quo(r, d)
	}
	return r
}

// inBase is so many of the unit in the base unit, to a float64's precision.
func (u unit) inBase(number float64) float64 {
	size, _ := ratOf(u.size).Float64()
	if u.zero == "" {
		return number * size
	}
	zero, _ := ratOf(u.zero).Float64()
	return number*size + zero
}

// firstUnit is the unit in which any value of the kind can be written.
func firstUnit(k Kind) unit {
	return units[slices.IndexFunc(units, func(u unit) bool { return u.kind == k })]
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
// "3.5 in", "1/8 in", "1 1/2 in", "1½ in", "-0.02 mm", "0.3 %", "20 min". Capitals
// in a unit's name count. An error says what to write instead.
func ParseQuantity(k Kind, text string) (Quantity, error) {
	number, name := splitNumber(text)
	if number == "" {
		return Quantity{}, noNumber(k, text)
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
	return Quantity{Kind: k, Number: r, Unit: name, text: number + " " + name, unit: u}, nil
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
	if err := oddUnit(k, number, name); err != nil {
		return err
	}
	for _, u := range units {
		if as := u.spelled(name); u.kind == k && as != "" {
			return fmt.Errorf("has the unit %q: capital letters count, write %q", brief(name), number+" "+as)
		}
	}
	for _, u := range units {
		if slices.Contains(u.names, name) {
			return fmt.Errorf("is %v, not %v: write it in %s", u.kind, k, strings.Join(unitNames(k), ", "))
		}
	}
	return fmt.Errorf("has the unknown unit %q: %v is written in %s", brief(name), k, strings.Join(unitNames(k), ", "))
}

// spelled is the unit's name that differs at most in capital letters, or "".
func (u unit) spelled(name string) string {
	i := slices.IndexFunc(u.names, func(n string) bool { return strings.EqualFold(n, name) })
	if i < 0 {
		return ""
	}
	return u.names[i]
}

// splitNumber cuts text where the number ends. A number is made of digits,
// signs, points, slashes, commas, spaces before more of them, and an exponent;
// fractions with a character of their own are spelled out.
func splitNumber(text string) (number, rest string) {
	text = strings.TrimSpace(spelledOut(text))
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

// thousands is a number whose comma may part thousands: "1,200".
var thousands = regexp.MustCompile(`^\d{1,3},\d{3}$`)

// parseNumber reads "12", "1.5", "-0.02", "1/8" and "1 1/2" or "1-1/2" exactly.
func parseNumber(s string) (*big.Rat, error) {
	switch {
	case len(s) > maxDigits:
		return nil, fmt.Errorf("has more than %d digits", maxDigits)
	case strings.Contains(s, ","):
		if thousands.MatchString(s) { // which of the two is meant shows in neither
			return nil, fmt.Errorf("has a comma: write %q or %q", strings.ReplaceAll(s, ",", ""), strings.ReplaceAll(s, ",", "."))
		}
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
	if slash && (strings.Contains(s, ".") || strings.Contains(under, "/")) {
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
// the same float64: the shortest decimal that does, in the unit that reads best.
func Format(k Kind, v float64) string {
	if k >= Number {
		return shortest(v)
	}
	exact, ok := new(big.Rat).SetString(shortest(v))
	if !ok { // NaN or infinite
		return shortest(v) + " " + firstUnit(k).names[0]
	}
	text := firstUnit(k).write(exact)
	for _, u := range units {
		if u.kind == k && u.handy && u.reads(exact) {
			text = u.write(exact)
		}
	}
	return text
}

// count is how many of the unit a value in the base unit is. Units with a zero
// of their own are only read.
func (u unit) count(v *big.Rat) *big.Rat { return new(big.Rat).Quo(v, ratOf(u.size)) }

// reads reports whether a value in the base unit is a decimal of at least 1, or
// of at least so many as read well.
func (u unit) reads(v *big.Rat) bool {
	n := u.count(v)
	_, decimal := n.FloatPrec()
	return decimal && n.Abs(n).Cmp(big.NewRat(max(1, u.least), 1)) >= 0
}

// write writes a value in the base unit that is a decimal in this one.
func (u unit) write(v *big.Rat) string {
	n := u.count(v)
	if f, _ := n.Float64(); f > maxWritten || f < -maxWritten {
		return shortest(f) + " " + u.names[0]
	}
	digits, _ := n.FloatPrec()
	return n.FloatString(digits) + " " + u.names[0]
}

// Millimeters writes a length of v mm for reading, to a hundredth.
func Millimeters(v float64) string { return Format(Length, roundTo(v, 100)) }

// FormatInches writes a length of v mm in inches, to a ten-thousandth.
func FormatInches(v float64) string {
	return shortest(roundTo(v/25.4, 1e4)) + " in"
}

// maxPlain: beyond it, digits are written with an exponent; no length of a
// wheel needs more than a kilometer in mm.
const maxPlain = 1e6

// leastPlain: below it, digits are written with an exponent, too; no value of a job in
// a unit that somebody writes is as small.
const leastPlain = 1e-12

// maxWritten: no allowed value is a larger number in the unit that it is written
// in, so only a fault shows one, with an exponent.
const maxWritten = maxPlain * maxPlain

func shortest(v float64) string {
	if v > maxPlain || v < -maxPlain || v != 0 && math.Abs(v) < leastPlain {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}
