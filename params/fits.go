package params

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// gradeRow holds IT5 to IT11 in µm for diameters up to a limit in mm.
type gradeRow struct {
	upTo float64
	it   [7]int
}

// ISO 286-1 in micrometers. Standard tolerances are the printed table, which is
// rounded from i = 0.45·D^⅓ + 0.001·D by rules of the standard.
var toleranceGrades = []gradeRow{
	{3, [7]int{4, 6, 10, 14, 25, 40, 60}},
	{6, [7]int{5, 8, 12, 18, 30, 48, 75}},
	{10, [7]int{6, 9, 15, 22, 36, 58, 90}},
	{18, [7]int{8, 11, 18, 27, 43, 70, 110}},
	{30, [7]int{9, 13, 21, 33, 52, 84, 130}},
	{50, [7]int{11, 16, 25, 39, 62, 100, 160}},
	{80, [7]int{13, 19, 30, 46, 74, 120, 190}},
	{120, [7]int{15, 22, 35, 54, 87, 140, 220}},
	{180, [7]int{18, 25, 40, 63, 100, 160, 250}},
	{250, [7]int{20, 29, 46, 72, 115, 185, 290}},
	{315, [7]int{23, 32, 52, 81, 130, 210, 320}}, // from here from memory of ISO 286-1:2010, table 1
	{400, [7]int{25, 36, 57, 89, 140, 230, 360}},
	{500, [7]int{27, 40, 63, 97, 155, 250, 400}},
}

const firstGrade, lastGrade = 5, 11

// Fundamental deviations of shafts: the upper one (es) for f and g, the lower
// one (ei) for k (IT4 to IT7) to r. m, n, p and r are as printed; f, g and k are
// from memory of ISO 286-1:2010, tables 4 and 5.
var shaftDeviations = []struct {
	over, upTo          float64 // mm
	f, g, k, m, n, p, r int
}{
	{10, 18, -16, -6, 1, 7, 12, 18, 23},
	{18, 30, -20, -7, 2, 8, 15, 22, 28},
	{30, 50, -25, -9, 2, 9, 17, 26, 34},
	{50, 65, -30, -10, 2, 11, 20, 32, 41},
	{65, 80, -30, -10, 2, 11, 20, 32, 43},
	{80, 100, -36, -12, 3, 13, 23, 37, 51},
	{100, 120, -36, -12, 3, 13, 23, 37, 54},
}

// Fit returns the limits of a tolerance class of ISO 286 such as "H7" or "g6"
// as deviations in mm from a diameter in mm. Known are H and h for 0 to 500 mm
// and IT5 to IT11; f, g, k, m, n, p, r and the holes K, M, N, P, R for 10 mm to
// 120 mm.
func Fit(diameter float64, class string) (lower, upper float64, err error) {
	letter := strings.TrimRight(class, "0123456789")
	grade, err := strconv.Atoi(strings.TrimPrefix(class, letter))
	if err != nil || letter == "" {
		return 0, 0, fmt.Errorf("%q is no tolerance class: write it as in H7", class)
	}
	it, ok := tolerance(diameter, grade)
	if !ok {
		return 0, 0, fmt.Errorf("no standard tolerance IT%d is known for %s", grade, mm(diameter))
	}
	lo, hi, ok := deviations(diameter, letter, grade, it)
	if !ok {
		return 0, 0, fmt.Errorf("the class %s is not known for %s", class, mm(diameter))
	}
	return float64(lo) / 1000, float64(hi) / 1000, nil
}

// Tolerance is the standard tolerance IT of a diameter in mm, in mm; grades 5
// to 11, diameters to 500 mm.
func Tolerance(diameter float64, grade int) (float64, bool) {
	it, ok := tolerance(diameter, grade)
	return float64(it) / 1000, ok
}

func tolerance(diameter float64, grade int) (int, bool) {
	i := slices.IndexFunc(toleranceGrades, func(r gradeRow) bool { return diameter <= r.upTo })
	if i < 0 || !(diameter > 0) || grade < firstGrade || grade > lastGrade {
		return 0, false
	}
	return toleranceGrades[i].it[grade-firstGrade], true
}

// deviations in µm of a class whose tolerance is it.
func deviations(diameter float64, letter string, grade, it int) (lo, hi int, ok bool) {
	switch letter {
	case "H":
		return 0, it, true
	case "h":
		return -it, 0, true
	}
	d, found := shaftDeviation(diameter, strings.ToLower(letter))
	if !found {
		return 0, 0, false
	}
	switch {
	case letter == "f" || letter == "g":
		return d - it, d, true
	case letter == "k" && grade > 7:
		return 0, it, true
	case letter == strings.ToLower(letter):
		return d, d + it, true
	case strings.Contains("KMN", letter) && grade <= 8, strings.Contains("PR", letter) && grade <= 7:
		// ES = -ei + Δ with Δ the step from the next finer grade.
		finer, known := tolerance(diameter, grade-1)
		es := -d + it - finer
		return es - it, es, known
	}
	return 0, 0, false
}

func shaftDeviation(diameter float64, letter string) (int, bool) {
	for _, r := range shaftDeviations {
		if diameter <= r.over || diameter > r.upTo {
			continue
		}
		d, ok := map[string]int{"f": r.f, "g": r.g, "k": r.k, "m": r.m, "n": r.n, "p": r.p, "r": r.r}[letter]
		return d, ok
	}
	return 0, false
}
