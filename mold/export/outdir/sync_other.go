//go:build !unix

package outdir

// syncDir does nothing: there are systems that do not open folders for it.
func syncDir(path string) error { return nil }
