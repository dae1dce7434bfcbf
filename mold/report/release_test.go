package report

import (
	"encoding/json"
	"strings"
	"testing"

	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/mold/release"
	"wheelmold/mold/report/reporttest"
)

// opened reports how an example opens, with settings on top.
func opened(t *testing.T, sets ...string) (*Build, *release.Verdict) {
	t.Helper()
	m, err := mold.New(moldtest.Example(t, "kestrel", sets...))
	if err != nil {
		t.Fatal(err)
	}
	v, err := release.Of(m)
	if err != nil {
		t.Fatal(err)
	}
	b := &Build{}
	b.SetRelease(v)
	return b, v
}

// Text and page tell each piece in the order in which it comes off, with what becomes
// of the stubs in it; the JSON has the numbers of the verdict.
func TestReleaseIsTold(t *testing.T) {
	b, v := opened(t, "mold.split=cup and lid")
	text := inText(t, b.Release.text)
	last := 0
	for _, want := range []string{"opening  squeezes 9.8 %", "lid      free", "1 sprue wider upward:", "stretched or torn as it lifts", "vents along the pull", "cup      squeezes", "groove 3", "(up to 20 %"} {
		at := strings.Index(text, want)
		if at < last {
			t.Errorf("%q is missing, or out of order:\n%s", want, text)
		}
		last = max(at, last)
	}
	if named := b.opening(); len(named) != 1 || len(named[0].Tables[0].Rows) != 3 {
		t.Errorf("on the page: %+v", named)
	}
	raw, err := json.Marshal(b)
	if err != nil {
		t.Fatal(err)
	}
	var tree any
	if err := json.Unmarshal(raw, &tree); err != nil {
		t.Fatal(err)
	}
	cup := v.Pieces[1]
	for _, want := range []string{`"grade":"squeezes","words":"squeezes 9.8 %","opens":true`, `"pieces":[{"name":"lid","pull":[0,0,1],"grade":"free"`, `"wheel_is_drawn_out":true`} {
		if !strings.Contains(string(raw), want) {
			t.Errorf("%s is missing in %s", want, raw)
		}
	}
	for key, want := range map[string]float64{
		"release.pieces.1.pull.2": -1, "release.pieces.1.squeeze.by_mm": cup.Squeeze.By, "release.pieces.1.squeeze.of_mm": cup.Squeeze.Of,
		"release.pieces.1.squeeze.share": cup.Squeeze.Share(), "release.stands_off_mm": v.Slack,
	} {
		if got, err := reporttest.LookUp(tree, key); err != nil || got != want {
			t.Errorf("%s: %v (%v), want %v", key, got, err, want)
		}
	}
	for _, f := range b.Release.outcome().Figures {
		if got, err := reporttest.LookUp(tree, f.Key); err != nil || got != f.Raw {
			t.Errorf("%s: %v (%v) in the JSON, %v on the page", f.Key, got, err, f.Raw)
		}
		if err := reporttest.Agrees(f.Value, f.Key, f.Raw); err != nil {
			t.Error(err)
		}
	}
}

// A mold that opens freely is fine, one that squeezes asks for a look, and one beyond
// what rubber is taken to give asks for another mold.
func TestReleaseOutcome(t *testing.T) {
	for _, c := range []struct {
		sets    []string
		want    state
		figures int
	}{
		{nil, fine, 1},
		{[]string{"mold.split=cup and lid"}, mind, 2},
		{[]string{"mold.split=cup and lid", "wheel.groove[1].depth=6mm"}, act, 2},
	} {
		b, v := opened(t, c.sets...)
		if o := b.Release.outcome(); o.State != c.want || len(o.Figures) != c.figures || !strings.Contains(o.Says, v.Words()) {
			t.Errorf("%v: %s, %s, %d figures", c.sets, o.State, o.Says, len(o.Figures))
		}
	}
	if b := (&Build{}); b.opening() != nil {
		t.Error("an opening that nobody judged is told")
	}
}
