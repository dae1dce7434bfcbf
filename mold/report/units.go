package report

import (
	"fmt"
	"math"
	"strconv"
	"time"

	"wheelmold/params"
)

// Both systems side by side, rounded to what the bench can use.

// Avoirdupois, exact by the international agreement of 1959.
const gramsPerPound, gramsPerOunce = 453.59237, gramsPerPound / 16

// lift prints a mass to carry.
func lift(g float64) string {
	if g < 1000 {
		return fmt.Sprintf("%s g (%s oz)", number(g, 0), number(g/gramsPerOunce, 1))
	}
	return fmt.Sprintf("%s kg (%s lb)", number(g/1000, 1), number(g/gramsPerPound, 1))
}

// torque prints what a wrench is set to; an inch-pound is 0.1129848 N·m.
func torque(nm float64) string {
	inlb := nm / 0.1129848290276167
	if inlb < 60 {
		return fmt.Sprintf("%s N·m (%s in·lb)", worthTold(nm), worthTold(inlb))
	}
	return fmt.Sprintf("%s N·m (%s ft·lb)", worthTold(nm), worthTold(inlb/12))
}

// pull prints a force.
func pull(n float64) string {
	return fmt.Sprintf("%s N (%s lbf)", worthTold(n), worthTold(n/4.4482216152605))
}

// worthTold prints whole units, of less than 10 two digits that count, and no exponent.
func worthTold(v float64) string {
	if math.Abs(v) >= 10 {
		return number(v, 0)
	}
	return strconv.FormatFloat(params.Significant(v, 2), 'f', -1, 64)
}

func warmth(c float64) string {
	return fmt.Sprintf("%s °C (%s °F)", number(c, 0), number(c*9/5+32, 0))
}

// length prints mm and inches, finer for small ones.
func length(mm float64) string {
	d := 1
	if math.Abs(mm) < 1 {
		d = 2
	}
	return fmt.Sprintf("%s mm (%s in)", number(mm, d), number(mm/25.4, d+1))
}

// span prints a time as a clock on the wall counts it.
func span(s float64) string {
	if s <= -0.5 {
		return "-" + span(-s)
	}
	t := int(math.Round(s))
	if t >= 3600 {
		return fmt.Sprintf("%d:%02d:%02d h", t/3600, t/60%60, t%60)
	}
	return fmt.Sprintf("%d:%02d min", t/60, t%60)
}

// days prints a cure in hours, or in days from three days on.
func days(s float64) string {
	if s > 100*3600 {
		return number(s/86400, 1) + " days"
	}
	return number(s/3600, 1) + " h"
}

// clock prints when something is due: a time of the day if it is known when A
// met B, or else the time since.
func clock(start time.Time, s float64) string {
	if start.IsZero() {
		return span(s)
	}
	return start.Add(time.Duration(math.Round(s)) * time.Second).Format("15:04")
}

// pressure prints a gauge pressure; 6894.757 Pa make a pound per square inch.
func pressure(pa float64) string {
	return fmt.Sprintf("%s bar (%s psi)", number(pa/1e5, 1), number(pa/6894.757293168, 0))
}
