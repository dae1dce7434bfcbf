package flat

import (
	"fmt"
	"math/rand"
	"testing"

	"wheelmold/mesh/dxf"
	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

// randomJob draws sizes, a split, an outline and what a mold may have on top. It may be
// one that cannot be made.
func randomJob(seed int64) (*params.Job, error) {
	r := rand.New(rand.NewSource(seed))
	pick := func(s ...string) string { return s[r.Intn(len(s))] }
	d := 25 + 375*r.Float64()*r.Float64()
	src := fmt.Sprintf("[wheel]\ndiameter = \"%.2f mm\"\nwidth = \"%.2f mm\"\n[hub]\nbore = \"%.1f mm\"\n[process]\nname = %q\n",
		d, max(8, d*(.25+.45*r.Float64())), max(2, d*(.08+.12*r.Float64())), pick("milled", "filament", "lapped filament", "resin"))
	sets := moldtest.Splits[r.Intn(len(moldtest.Splits))].Sets
	may := func(set string) {
		if r.Intn(3) == 0 {
			sets = append(sets[:len(sets):len(sets)], set)
		}
	}
	may("mold.outline=" + pick("square", "octagon", "round"))
	may("mold.side_clamp.kind=" + pick("lugs", "strap", "none", "counterbore"))
	may("mold.mating.stock=" + pick("0.1mm", "0.3mm"))
	may("mold.bolts.head=" + pick("none", "socket"))
	may("mold.bolts.nut=" + pick("none", "hex", "round"))
	may("mold.jacks.size=" + pick("M5", "M6"))
	may("mold.face_up=" + pick("front", "back"))
	may("wheel.edge=" + pick("round", "chamfer", "square"))
	may("wheel.cross_grooves.count=" + pick("6", "11"))
	may(fmt.Sprintf("hub.offset=%.1fmm", r.Float64()*6-3))
	may("hub.bolts.count=" + pick("4", "6"))
	may("hub.hole_compensation=0.2mm")
	may("mold.ceiling.shape=" + pick("flat", "coned"))
	var over []params.Setting
	for _, s := range sets {
		x, err := params.ParseSetting(s)
		if err != nil {
			return nil, err
		}
		over = append(over, x)
	}
	j, _, err := params.Parse("random", []byte(src), over...)
	return j, err
}

// Every mold that can be made can be drawn: with one closed outline per view, within
// which all else lies, and with the holes of its layout.
func TestRandomDrawings(t *testing.T) {
	want := int64(20)
	if testing.Short() {
		want = 4
	}
	made := int64(0)
	for seed := int64(1); made < want && seed < 10*want; seed++ {
		j, err := randomJob(seed)
		if err != nil {
			continue
		}
		m, err := mold.New(j)
		if err != nil {
			continue
		}
		c, err := m.Check()
		if err != nil {
			continue
		}
		made++
		files, err := Of(m, c.RawFaces)
		if err != nil {
			t.Errorf("seed %d, %s: %v", seed, j.Mold.Split, err)
			continue
		}
		for i := range files {
			for k := range files[i].Views {
				v := &files[i].Views[k]
				if err := holesDiffer(m, &m.Pieces[i], v); err != nil {
					t.Errorf("seed %d: %v", seed, err)
				}
				if err := contourDiffers(&m.Pieces[i], v); err != nil {
					t.Errorf("seed %d: %v", seed, err)
				}
				if err := strays(v); err != nil {
					t.Errorf("seed %d: %s: %v", seed, files[i].Name, err)
				}
			}
		}
	}
	if made < want {
		t.Errorf("only %d jobs could be made", made)
	}
}

// strays reports what is drawn of a piece beyond its outline.
func strays(v *View) error {
	var all, outside dxf.Drawing
	for _, it := range v.items {
		switch it.layer {
		case Origin, CenterLines, Notes, LockHoles, HoleMarks:
		case Outline, Profile:
			outside.Add(it.layer, it.entity)
		default:
			all.Add(it.layer, it.entity)
		}
	}
	if len(all.Items) == 0 {
		return nil
	}
	lo, hi := all.Bounds()
	least, most := outside.Bounds()
	for i := range lo {
		if lo[i] < least[i]-snug || hi[i] > most[i]+snug {
			return fmt.Errorf("%s: drawn within %v %v, outlined within %v %v", v.Name, lo, hi, least, most)
		}
	}
	return nil
}
