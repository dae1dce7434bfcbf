package report

import (
	"encoding/json"
	"strings"
	"testing"

	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/mold/report/reporttest"
	"wheelmold/mold/service"
)

// usedHub reports the hub of an example, with settings on top, and its text.
func usedHub(t *testing.T, sets ...string) (*HubService, string) {
	t.Helper()
	m, err := mold.New(moldtest.Example(t, "kestrel", sets...))
	if err != nil {
		t.Fatal(err)
	}
	r := hubServiceOf(service.OfHub(m, 150, 250))
	return r, strings.Join(strings.Fields(inText(t, r.text)), " ")
}

// Text tells every load, thin walls, bearings and motion with what they rest on; a
// figure's key leads to its value in the JSON.
func TestHubServiceIsTold(t *testing.T) {
	r, text := usedHub(t, "hub.lock_holes.count=0", "hub.sprocket.chain=06C", "hub.sprocket.teeth=40")
	for _, want := range []string{"drive stalled, tread held", "hit from the side", "holds", "a groove around the hub turns with the rubber in it", "and no torque", "between bolt holes and bearing pocket", "thin; move hub.bolts.circle", "bearing, back and front H7", "loose when warm", "the lower bound",
		"metal sleeve", "06C, 40 teeth", "pitch circle 121.4 mm", "from memory", "behind a guard", "upper bound"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing:\n%s", want, text)
		}
	}
	raw, err := json.Marshal(map[string]any{"service": map[string]any{"hub": r}})
	if err != nil {
		t.Fatal(err)
	}
	var tree any
	if err := json.Unmarshal(raw, &tree); err != nil {
		t.Fatal(err)
	}
	for _, f := range r.figures() {
		if got, err := reporttest.LookUp(tree, f.Key); err != nil || got != f.Raw {
			t.Errorf("%s: %v, want %v: %v", f.Key, got, f.Raw, err)
		}
	}
}

// What asks for work follows from what is loaded: lock holes that carry the torque calm
// a weak bond, and at rest nothing pulls.
func TestHubServiceState(t *testing.T) {
	weak := []string{"hub.bond=0.01MPa", "duty.stall_torque=20Nm"}
	locks := []string{"hub.lock_holes.count=8", "hub.lock_holes.diameter=8mm", "hub.lock_holes.depth=8mm", "hub.bolts.count=0"}
	for _, c := range []struct {
		sets []string
		want state
		says string
	}{
		{nil, mind, "thin"},
		{[]string{"hub.bolts.count=0"}, fine, "holds"},
		{[]string{"hub.bolts.count=0", "hub.sprocket.chain=08A", "hub.sprocket.teeth=40"}, mind, "08A, 40 teeth"},
		{[]string{"hub.bolts.circle=39mm"}, fine, "the nearest to what is needed"},
		{append(weak, "hub.lock_holes.count=0", "hub.bolts.count=0"), act, "to change hub.lock_holes.count"},
		{[]string{"duty.rpm=90000", "hub.bolts.count=0"}, act, "spinning under 0.1"},
		{[]string{"duty.rpm=0", "duty.stall_torque=0Nm", "hub.bolts.count=0"}, fine, "no load"},
		{append([]string{"hub.bond=0.05MPa", "duty.stall_torque=20Nm", "duty.impact=1"}, locks...), fine, "Lock holes still carry"},
	} {
		r, text := usedHub(t, c.sets...)
		if got := r.state(); got != c.want || !strings.Contains(text, c.says) {
			t.Errorf("%v: %s, want %s with %q:\n%s", c.sets, got, c.want, c.says, text)
		}
	}
}
