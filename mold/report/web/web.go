// Package web holds what a report's page brings along: its script, as one text to be
// put into a script element. The page needs nothing from elsewhere.
//
// The script is made by go generate from src and the libraries of package-lock.json
// and committed, so that the program builds without Node. A test fails where it does
// not belong to its sources.
package web

import _ "embed"

//go:generate go run ./generate

// Viewer is the page's script: the 3D view, notes and printing. It contains its
// libraries' licenses.
//
//go:embed bundle/viewer.js
var Viewer string
