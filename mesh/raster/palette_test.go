package raster

import (
	"image/color"
	"math"
	"testing"
)

// dichromacies map linear sRGB as seen to linear sRGB as seen by dichromats:
// IEEE Transactions on Visualization and Computer Graphics 15(6), 2009,
// pp. 1291-1298, severity 1.0.
var dichromacies = map[string][3]linear{
	"usual vision": {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protanopia":   {{.152286, 1.052583, -.204868}, {.114503, .786281, .099216}, {-.003882, -.048116, 1.051998}},
	"deuteranopia": {{.367322, .860646, -.227968}, {.280085, .672501, .047413}, {-.011820, .042940, .968881}},
	"tritanopia":   {{1.255528, -.076749, -.178779}, {-.078411, .930809, .147602}, {.004733, .691367, .303900}},
}

// lab is CIE L*a*b* (CIE 15) with the white of sRGB.
func lab(c linear) [3]float64 {
	r, g, b := float64(c[0]), float64(c[1]), float64(c[2])
	f := func(t float64) float64 {
		if t > 216./24389 {
			return math.Cbrt(t)
		}
		return (24389./27*t + 16) / 116
	}
	x := f((.4124564*r + .3575761*g + .1804375*b) / .95047)
	y := f(.2126729*r + .7151522*g + .0721750*b)
	z := f((.0193339*r + .1191920*g + .9503041*b) / 1.08883)
	return [3]float64{116*y - 16, 500 * (x - y), 200 * (y - z)}
}

// Parts stay apart for everyone: colors differ by at least 15 (CIE 1976), where
// 2.3 is a just noticeable difference.
func TestPaletteForEveryEye(t *testing.T) {
	parts := []struct {
		name  string
		color color.RGBA
	}{
		{"base", Palette.Base}, {"shell A", Palette.ShellA}, {"shell B", Palette.ShellB},
		{"shell C", Palette.ShellC}, {"shell D", Palette.ShellD},
		{"lid", Palette.Lid}, {"hub", Palette.Hub}, {"rubber", Palette.Rubber},
	}
	for eye, m := range dichromacies {
		see := func(c color.RGBA) [3]float64 {
			v := toLinear(c)
			var out linear
			for i := range out {
				out[i] = m[i][0]*v[0] + m[i][1]*v[1] + m[i][2]*v[2]
			}
			return lab(out)
		}
		for i, a := range parts {
			for _, b := range parts[:i] {
				p, q := see(a.color), see(b.color)
				d := math.Sqrt((p[0]-q[0])*(p[0]-q[0]) + (p[1]-q[1])*(p[1]-q[1]) + (p[2]-q[2])*(p[2]-q[2]))
				if d < 15 {
					t.Errorf("%s: %s and %s differ by %.1f", eye, a.name, b.name, d)
				}
			}
		}
	}
	if w := lab(white); math.Abs(w[0]-100) > .01 || math.Abs(w[1])+math.Abs(w[2]) > .05 {
		t.Errorf("white is %v", w)
	}
}
