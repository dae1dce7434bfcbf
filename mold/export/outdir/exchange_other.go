//go:build !linux

package outdir

import "errors"

func exchange(a, b string) error { return errors.ErrUnsupported }
