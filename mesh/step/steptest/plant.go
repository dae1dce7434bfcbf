package steptest

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// Damage is something done to a file that whoever reads it should notice.
type Damage struct {
	Name string
	// Silent: a reader that repairs in silence may make a sound solid of it.
	Silent bool
	do     func(src string) string
}

// What damage adds has numbers from added on, before the end.
const (
	added = 900_000
	end   = "ENDSEC;\nEND-ISO-10303-21;\n"
)

// Do returns the file with the damage done; it panics where there is nothing to damage.
func (d Damage) Do(src []byte) []byte {
	out := d.do(string(src))
	if out == string(src) {
		panic("nothing to damage: " + d.Name)
	}
	return []byte(out)
}

// Damages are those that any file of one part with a hole can have.
func Damages() []Damage {
	return []Damage{
		{"flipped-face", true, first(`(=ADVANCED_FACE\([^;]*),\.T\.\);`, "$1,.F.);")},
		{"flipped-bound", true, first(`(=FACE_OUTER_BOUND\([^;]*),\.T\.\);`, "$1,.F.);")},
		{"flipped-edge", true, first(`(=ORIENTED_EDGE\([^;]*),\.T\.\);`, "$1,.F.);")},
		{"missing-face", false, first(`(=CLOSED_SHELL\('',\()#\d+,`, "$1")},
		{"moved-vertex", false, movedVertex},
		{"wrong-unit", false, first(`\.MILLI\.`, ".CENTI.")},
		{"wider-surface", false, first(`(=CYLINDRICAL_SURFACE\('',#\d+,\d+\.)\d*`, "${1}001")},
		{"wider-edge", false, first(`(=CIRCLE\('',#\d+,\d+\.)\d*`, "${1}001")},
		{"lost-point", false, first(`\n#\d+=CARTESIAN_POINT\([^;]*;`, "")},
		{"cut-short", false, func(src string) string { return src[:len(src)*2/3] }},
	}
}

// BentCurve has a spline with a control point in the place of another.
func BentCurve(src []byte) []byte {
	return []byte(first(`(=B_SPLINE_CURVE_WITH_KNOTS\('',3,\(#\d+,#\d+,#\d+,)#\d+,(#\d+)`, "${1}$2,$2")(string(src)))
}

// MovedPart is an assembly's damage: its first part stands 5 mm aside.
func MovedPart(src []byte) []byte {
	s := strings.TrimSuffix(string(src), end)
	place := regexp.MustCompile(`=ITEM_DEFINED_TRANSFORMATION\('','',#\d+,(#\d+)`).FindStringSubmatch(s)[1]
	s = first(`(\n`+place+`=AXIS2_PLACEMENT_3D\('',)#\d+`, fmt.Sprintf("${1}#%d", added))(s)
	return []byte(s + fmt.Sprintf("#%d=CARTESIAN_POINT('',(5.,0.,0.));\n", added) + end)
}

// first replaces the first match only.
func first(pattern, by string) func(string) string {
	re := regexp.MustCompile(pattern)
	return func(src string) string {
		at := re.FindStringSubmatchIndex(src)
		if at == nil {
			return src
		}
		return src[:at[0]] + string(re.ExpandString(nil, by, src, at)) + src[at[1]:]
	}
}

// movedVertex gives the first vertex another point than it has, 0.01 mm off.
func movedVertex(src string) string {
	at := regexp.MustCompile(`=VERTEX_POINT\('',#(\d+)\)`).FindStringSubmatchIndex(src)
	if at == nil {
		return src
	}
	point := regexp.MustCompile(`#` + src[at[2]:at[3]] + `=CARTESIAN_POINT\('',\(([^,]*),([^)]*)\)\)`).FindStringSubmatch(src)
	x, err := strconv.ParseFloat(point[1], 64)
	if err != nil {
		return src
	}
	return src[:at[2]] + strconv.Itoa(added) + src[at[3]:strings.Index(src, end)] +
		fmt.Sprintf("#%d=CARTESIAN_POINT('',(%.6f,%s));\n", added, x+.01, point[2]) + end
}
