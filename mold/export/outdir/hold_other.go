//go:build !unix

package outdir

import (
	"errors"
	"os"
)

// hold locks nothing here: what is open may not be renamed.
func hold(string) (*os.File, error) { return nil, errors.ErrUnsupported }
