//go:build !unix

package outdir

import (
	"errors"
	"os"
)

// hold locks no folder here: an open one may keep it from being renamed.
func hold(string) (*os.File, error) { return nil, errors.ErrUnsupported }
