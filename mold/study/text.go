package study

import (
	"slices"

	"wheelmold/params"
)

// Text is where a job is stated. Each call reads it anew, so that one text serves
// many rows at once.
type Text interface {
	// Job resolves the job with settings on top; error and warnings are as of
	// [params.Parse].
	Job(sets ...params.Setting) (j *params.Job, warnings params.Faults, err error)
	// Locate finds where the values that faults name were stated.
	Locate(faults params.Faults, sets ...params.Setting) params.Faults
}

// File is a job file that was read.
type File struct {
	Name  string // as faults call it
	Bytes []byte
	// Learned are values of the job from elsewhere, as from a log of casts; settings
	// override them. What the file states is not among them.
	Learned []params.Setting
}

// Job resolves the job of the file, with settings on top.
func (f *File) Job(sets ...params.Setting) (j *params.Job, warnings params.Faults, err error) {
	return params.Parse(f.Name, f.Bytes, f.with(sets)...)
}

// Locate finds where in the file, or by which setting, values were stated.
func (f *File) Locate(faults params.Faults, sets ...params.Setting) params.Faults {
	return params.Locate(faults, f.Name, f.Bytes, f.with(sets)...)
}

func (f *File) with(sets []params.Setting) []params.Setting { return slices.Concat(f.Learned, sets) }

// Read resolves a job of the text, with settings on top, and lets the options locate
// in it what comes later.
func (o *Options) Read(t Text, sets []params.Setting) (*params.Job, error) {
	o.Locate = nil // what reading says has its places
	j, warnings, err := t.Job(sets...)
	o.warn(warnings)
	if err != nil {
		return nil, o.refuse(Reading, err)
	}
	o.Locate = func(f params.Faults) params.Faults { return t.Locate(f, sets...) }
	return j, nil
}
