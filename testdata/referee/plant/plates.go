package main

import (
	"wheelmold/mesh"
	"wheelmold/mesh/threemf"
)

// plates returns loads of a bed of 50 x 40 x 30 mm on which base and lid keep 5 mm
// apart, one folder for each case. The base is 20 x 30 x 10 mm, the lid 35 x 20 x 8 mm
// and turned, so that it takes 20 x 35 mm.
func plates() map[string]threemf.Package {
	base, lid := box(mesh.Vec{}, mesh.Vec{20, 30, 10}), box(mesh.Vec{}, mesh.Vec{35, 20, 8})
	open := copied(lid)
	open.T = open.T[1:]
	at := func(name string, m *mesh.Mesh, x, y, z float64) threemf.Item {
		return threemf.Item{Name: name, Mesh: m, Pose: threemf.Pose{
			X: mesh.Vec{1, 0, 0}, Y: mesh.Vec{0, 1, 0}, Z: mesh.Vec{0, 0, 1}, Origin: mesh.Vec{x, y, z}}}
	}
	turned := func(m *mesh.Mesh, x, y, z float64) threemf.Item {
		return threemf.Item{Name: "lid", Mesh: m, Pose: threemf.Pose{
			X: mesh.Vec{0, 1, 0}, Y: mesh.Vec{-1, 0, 0}, Z: mesh.Vec{0, 0, 1}, Origin: mesh.Vec{x + 20, y, z}}}
	}
	load := func(items ...threemf.Item) threemf.Package { return threemf.Package{Items: items} }
	first := at("base", base, 0, 0, 0)
	return map[string]threemf.Package{
		"sound/plate-1.3mf":                load(first, turned(lid, 25, 0, 0)),
		"alone-and-turned/plate-1.3mf":     load(turned(lid, 30, 5, 0)),
		"alone-and-turned/pieces.3mf":      load(at("base", base, 90, 0, 0)), // not on the bed
		"one-too-large/plate-1.3mf":        load(turned(lid, 0, 5, 0)),
		"one-too-large/too-large-base.3mf": load(at("base", box(mesh.Vec{}, mesh.Vec{51, 30, 10}), 0, 0, 0)),
		"outside/plate-1.3mf":              load(first, turned(lid, 31, 0, 0)),
		"behind/plate-1.3mf":               load(first, turned(lid, 25, -1, 0)),
		"high/plate-1.3mf":                 load(first, at("lid", box(mesh.Vec{}, mesh.Vec{20, 20, 31}), 25, 0, 0)),
		"floating/plate-1.3mf":             load(first, turned(lid, 25, 0, 1)),
		"sunken/plate-1.3mf":               load(first, turned(lid, 25, 0, -1)),
		"near/plate-1.3mf":                 load(first, turned(lid, 24, 0, 0)),
		"overlapping/plate-1.3mf":          load(first, turned(lid, 15, 0, 0)),
		"unknown/plate-1.3mf":              load(first, turned(lid, 25, 0, 0), at("3", box(mesh.Vec{}, mesh.Vec{1, 1, 1}), 0, 36, 0)),
		"doubled/plate-1.3mf":              load(first, turned(lid, 25, 0, 0)),
		"doubled/plate-2.3mf":              load(turned(lid, 0, 0, 0)),
		"missing/plate-1.3mf":              load(first),
		"open/plate-1.3mf":                 load(first, turned(open, 25, 0, 0)),
		"would-fit/plate-1.3mf":            load(first),
		"would-fit/too-large-lid.3mf":      load(at("lid", lid, 0, 0, 0)),
	}
}
