package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"wheelmold/mold/study"
	"wheelmold/params"
)

// unreadError is a job file that cannot be read, with what to do.
type unreadError struct {
	cause error
	hint  string
}

func (e *unreadError) Error() string { return e.cause.Error() }
func (e *unreadError) Unwrap() error { return e.cause }

// closedJob tells what to do about a job file that cannot be read.
func closedJob(name string, err error) error {
	switch {
	case errors.Is(err, syscall.EISDIR):
		hint := "that is a folder: name the job file"
		if job := jobIn(name); job != "" {
			hint = "name the job file: " + job
		}
		return &unreadError{err, hint}
	case errors.Is(err, fs.ErrPermission):
		return &unreadError{err, "ask its owner to let you read it, or for a copy"}
	}
	return err
}

// jobIn is the job file in a folder that the program made, or "".
func jobIn(dir string) string {
	path := filepath.Join(dir, "job.toml")
	if info, err := os.Stat(path); err != nil || !info.Mode().IsRegular() {
		return ""
	}
	return path
}

// notJob refuses what is too large for a job, or is a file of another kind.
func notJob(name string, b []byte) error {
	f := params.Fault{File: name}
	kind := looksLike(name, b)
	switch {
	case len(b) > maxJob:
		f.Cause = fmt.Sprintf("is larger than %d bytes: no job file", maxJob)
		if kind != "" {
			f.Cause += ", but what looks like " + kind
		}
	case kind != "":
		f.Cause = "is no job file, but what looks like " + kind
	default:
		return nil
	}
	f.Hint = "name the job, a text file that ends in .toml"
	if job := jobIn(filepath.Dir(name)); job != "" && job != filepath.Clean(name) {
		f.Hint = "name the job file: " + job
	}
	return study.Refuse(study.Reading, params.Faults{f})
}

// signs are what files of a kind begin with, but for space and capital letters.
var signs = []struct{ begin, kind string }{
	{"iso-10303-21", "a STEP file"},
	{"<!doctype html", "an HTML page"},
	{"<html", "an HTML page"},
	{"%pdf-", "a PDF file"},
	{"\x89PNG", "a PNG picture"},
	{"\xff\xd8\xff", "a JPEG picture"},
}

// looksLike names the kind of a file that is often beside a job, by how it begins; "" if
// it is none of them.
func looksLike(name string, b []byte) string {
	begin := bytes.TrimLeft(b[:min(len(b), 256)], " \t\r\n")
	lower := bytes.ToLower(begin) // which spoils what is no UTF-8
	for _, s := range signs {
		if bytes.HasPrefix(begin, []byte(s.begin)) || bytes.HasPrefix(lower, []byte(s.begin)) {
			return s.kind
		}
	}
	switch {
	case bytes.HasPrefix(b, []byte("PK\x03\x04")) && (strings.EqualFold(filepath.Ext(name), ".3mf") || bytes.Contains(b, []byte("3D/3dmodel.model"))):
		return "a 3MF file"
	case bytes.HasPrefix(b, []byte("PK\x03\x04")):
		return "a ZIP archive"
	case bytes.HasPrefix(lower, []byte("solid")) && bytes.Contains(b, []byte("facet normal")), binarySTL(name, b):
		return "an STL mesh"
	case bytes.HasPrefix(begin, []byte("0")) && bytes.HasPrefix(bytes.TrimLeft(begin[1:], " \r\n"), []byte("SECTION")):
		return "a DXF drawing"
	}
	return ""
}

// binarySTL reports whether a file is as long as an STL of as many triangles as it says:
// a header of 80 bytes, their number in 4, and 50 for each.
func binarySTL(name string, b []byte) bool {
	if len(b) < 84 || bytes.IndexByte(b[:84], 0) < 0 {
		return false
	}
	size := int64(len(b))
	if info, err := os.Stat(name); err == nil && size > maxJob {
		size = info.Size()
	}
	return size == 84+50*int64(binary.LittleEndian.Uint32(b[80:]))
}
