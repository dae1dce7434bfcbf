// Package steptest judges STEP files for tests: it reads the entities of a file as any
// program would that knows the standard, and shares no code with the writer but the
// parser. Surfaces and curves have the parameters that ISO 10303-42 gives them; the
// volume is integrated from them.
package steptest
