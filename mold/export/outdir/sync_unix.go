//go:build unix

package outdir

import "os"

// syncDir makes the names in a folder durable.
func syncDir(path string) error {
	d, err := os.Open(path)
	if err != nil {
		return err
	}
	defer d.Close()
	return d.Sync()
}
