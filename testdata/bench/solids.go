package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"wheelmold/mesh/solid"
	"wheelmold/mesh/solid/solidtest"
	"wheelmold/mold"
	"wheelmold/params"
)

// solids that every maker makes, by the names that they have in the table: the reference
// solid, and pieces of examples as "JOB PIECE".
var solids = []string{reference, "wren base", "albatross shell A"}

const (
	reference = "reference solid"
	ball      = "ball of 100 mm" // nothing but a doubly curved face
)

// build returns the tree of a solid in a model of its own.
func build(name string) (*solid.Model, *solid.Node, error) {
	m := solid.NewModel()
	switch name {
	case reference:
		return m, solidtest.ReferenceLid(m), nil
	case ball:
		return m, m.Ball("ball", "outer", solid.Vec{}, solid.Vec{0, 0, 1}, 50), nil
	}
	job, piece, _ := strings.Cut(name, " ")
	j, err := example(job)
	if err != nil {
		return nil, nil, err
	}
	made, err := mold.New(j)
	if err != nil {
		return nil, nil, err
	}
	for _, p := range made.Pieces {
		if mold.Title(p.Name) == piece {
			return made.Model, p.Root, nil
		}
	}
	return nil, nil, fmt.Errorf("no solid %q", name)
}

// example reads a job of the examples, with settings on top.
func example(name string, sets ...string) (*params.Job, error) {
	src, err := os.ReadFile(filepath.Join("examples", name+".toml"))
	if err != nil {
		return nil, err
	}
	return parse(name, string(src), sets...)
}

func parse(name, src string, sets ...string) (*params.Job, error) {
	var over []params.Setting
	for _, s := range sets {
		x, err := params.ParseSetting(s)
		if err != nil {
			return nil, err
		}
		over = append(over, x)
	}
	j, _, err := params.Parse(name, []byte(src), over...)
	return j, err
}

// truthOf is what a solid is measured against.
func truthOf(name string) (*truth, error) {
	_, t, err := boundaryOf(name)
	if err != nil {
		return nil, err
	}
	if name == reference {
		t.volume = solidtest.ReferenceLidVolume
		return t, nil
	}
	t.volume, err = volumeByLines(t.root)
	return t, err
}
