package flash

import (
	"math"
	"sync"
	"testing"

	"wheelmold/mesh/brep"
	"wheelmold/mold"
	"wheelmold/mold/moldtest"
	"wheelmold/params"
)

func near(t *testing.T, what string, got, want, relative float64) {
	t.Helper()
	if math.Abs(got-want) > relative*math.Abs(want) {
		t.Errorf("%s: %.6g, want %.6g", what, got, want)
	}
}

// surveyed is a mold with its parting lines.
type surveyed struct {
	mold     *mold.Mold
	faces    map[string]*brep.Boundary
	geometry *geometry
}

func surveyOf(t testing.TB, j *params.Job) *surveyed {
	t.Helper()
	m, c := moldtest.Checked(t, j)
	return &surveyed{m, c.Faces, survey(m, c.Faces)}
}

var shelf sync.Map // surveys of the examples as they are

// stock is the survey of an example, made once.
func stock(t testing.TB, name string) *surveyed {
	t.Helper()
	if v, ok := shelf.Load(name); ok {
		return v.(*surveyed)
	}
	s := surveyOf(t, moldtest.Example(t, name))
	shelf.Store(name, s)
	return s
}

func (s *surveyed) site(t testing.TB, name string) *site {
	t.Helper()
	for _, x := range s.geometry.sites {
		if x.name == name {
			return x
		}
	}
	t.Fatalf("no parting line %q", name)
	return nil
}

// conditions are fresh ones, in which figures may be changed.
func (s *surveyed) conditions() *conditions { return newConditions(s.geometry, s.mold.Job) }

var examples = []string{"wren", "kestrel", "albatross"}

// most are the examples for what takes long: in short runs, which look for data
// races, the smallest is enough.
func most() []string {
	if testing.Short() {
		return examples[:1]
	}
	return examples
}
