package report

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/mold/report/reporttest"
	"wheelmold/mold/service"
)

// used reports an example's wheel in use, with settings on top, and its text.
func used(t *testing.T, name string, sets ...string) (*Service, string) {
	t.Helper()
	m, err := mold.New(moldtest.Example(t, name, sets...))
	if err != nil {
		t.Fatal(err)
	}
	l, err := service.OfTread(m.Job)
	if err != nil {
		t.Fatal(err)
	}
	r := ServiceOf(l, service.OfHub(m, 150, 250))
	return r, strings.Join(strings.Fields(inText(t, r.text)), " ")
}

// Text tells loads, figures with their ranges, method and guidance; every figure's key
// leads to its value in the JSON.
func TestServiceIsTold(t *testing.T) {
	r, text := used(t, "kestrel")
	for _, want := range []string{"3.61 MPa at 60 Shore A by Gent's relation; three published relations have from 3.49 to 5.88 MPa", "24 mm of width, less 10 mm of grooves and 6 mm of edges", "at rest 34 N", "in a hit 338 N",
		"0.32 (0.22 to 0.38) 2 % 8.85 (6.99 to 9.28) 0.16 0.2 in", "upper bound", "estimate", "suits big wheels", "drive stalled, tread held"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing:\n%s", want, text)
		}
	}
	raw, err := json.Marshal(map[string]any{"service": r})
	if err != nil {
		t.Fatal(err)
	}
	var tree any
	if err := json.Unmarshal(raw, &tree); err != nil {
		t.Fatal(err)
	}
	o := r.outcome()
	for _, f := range o.Figures {
		if got, err := reporttest.LookUp(tree, f.Key); err != nil || got != f.Raw {
			t.Errorf("%s: %v, want %v: %v", f.Key, got, f.Raw, err)
		}
	}
	if n := len(r.Tread.figures()); n != 4 || len(o.Figures) != n+len(r.Hub.figures()) {
		t.Errorf("%d figures of the tread, %d in all", n, len(o.Figures))
	}
}

// A crown that the load does not press flat is told, and so is a hardness for which not
// all relations are stated.
func TestServiceTellsItsDoubts(t *testing.T) {
	const partly = "does not touch across its whole width"
	if _, text := used(t, "albatross"); !strings.Contains(text, partly) {
		t.Errorf("a crown of 2 mm under a deflection of 1.5 mm:\n%s", text)
	}
	if _, text := used(t, "albatross", "duty.impact=1", "duty.mass=300kg"); strings.Contains(text, partly) || !strings.Contains(text, "reckoned as flat") {
		t.Errorf("a crown that is pressed flat:\n%s", text)
	}
	if _, text := used(t, "kestrel", "pour.hardness=85"); !strings.Contains(text, "take a wide doubt") {
		t.Errorf("85 A:\n%s", text)
	}
	_, text := used(t, "kestrel", "pour.hardness=10")
	for _, want := range []string{"beyond small strain at the soft end", "in range from 40 Shore A on", "of which this is the middle one", "at the soft end of its modulus"} {
		if !strings.Contains(text, want) {
			t.Errorf("10 A: %q is missing:\n%s", want, text)
		}
	}
}

// The worse part decides, and what is beyond reckoning shows no figure.
func TestServiceState(t *testing.T) {
	calm := []string{"hub.bolts.count=0"}
	for _, c := range []struct {
		sets []string
		want state
		says string
	}{
		{calm, fine, "in a hit 338 N"},
		{append(slices.Clone(calm), "duty.mass=260kg", "duty.impact=20", "duty.stall_torque=1Nm"), mind, "beyond"},
		{append(slices.Clone(calm), "hub.bond=0.01MPa", "duty.stall_torque=30Nm"), act, "do not rely on it"},
	} {
		r, text := used(t, "kestrel", c.sets...)
		if o := r.outcome(); o.State != c.want || !strings.Contains(text, c.says) {
			t.Errorf("%v: %s, want %s with %q:\n%s", c.sets, o.State, c.want, c.says, text)
		}
	}
	r, _ := used(t, "kestrel", append(slices.Clone(calm), "duty.mass=5000kg", "duty.share=100%", "duty.stall_torque=1Nm")...)
	if r.Tread.state() != mind || r.Tread.Rest.State != string(service.BeyondSmall) || len(r.Tread.figures()) != 0 || !strings.Contains(r.outcome().Says, "beyond small strain") {
		t.Errorf("five tons: %+v", r.Tread)
	}
}
