package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"

	"wheelmold/mesh/brep"
	"wheelmold/mold"
	"wheelmold/mold/export/outdir"
	"wheelmold/mold/study"
	"wheelmold/params"
)

// Exit codes, part of the interface.
const (
	exitDone        = 0
	exitOther       = 1
	exitUsage       = 2
	exitJob         = 3
	exitGeometry    = 4
	exitFiles       = 5
	exitInterrupted = 130 // 128 + SIGINT, as shells count
	exitUnread      = 141 // 128 + SIGPIPE
)

const exitCodes = `Exit codes:
  0    done
  1    anything not listed here
  2    the command line is wrong
  3    the job is wrong: unknown, missing or impossible values
  4    the geometry cannot be made: features collide or touch
  5    reading or writing failed, or the output is there already
  130  interrupted; nothing half-made is left behind
  141  whatever read the output closed it, as head does`

// usageError is a command line that cannot be followed.
type usageError struct {
	cause error
	hint  string
}

func (e *usageError) Error() string { return e.cause.Error() }
func (e *usageError) Unwrap() error { return e.cause }

func usagef(hint, format string, a ...any) error {
	return &usageError{fmt.Errorf(format, a...), hint}
}

// message is one thing to tell the builder, with what to do about it.
type message struct{ text, hint string }

// conclude prints an error and returns its exit code.
func conclude(w io.Writer, err error) int {
	if err == nil {
		return exitDone
	}
	code, messages := explain(err)
	for _, m := range messages {
		say(w, "error", m)
	}
	return code
}

// say prints one message in the program's form, whatever characters files or keys are
// named with.
func say(w io.Writer, kind string, m message) {
	for line := range strings.Lines(m.text) {
		fmt.Fprintf(w, "wheelmold: %s: %s\n", kind, params.Printable(strings.TrimSuffix(line, "\n")))
	}
	if m.hint != "" {
		fmt.Fprintf(w, "wheelmold: hint: %s\n", params.Printable(m.hint))
	}
}

// remark tells on one line what was done or is waited for.
func remark(w io.Writer, format string, a ...any) {
	fmt.Fprintf(w, "wheelmold: %s\n", params.Printable(fmt.Sprintf(format, a...)))
}

// ofFault splits a fault into what is wrong and what to do.
func ofFault(f params.Fault) message {
	hint := f.Hint
	f.Hint = ""
	return message{f.Error(), hint}
}

func ofFaults(faults params.Faults) (messages []message) {
	for _, f := range faults {
		messages = append(messages, ofFault(f))
	}
	return messages
}

// explain tells what an error means for the builder.
func explain(err error) (code int, messages []message) {
	var (
		usage   *usageError
		refused *study.Refused
		unmade  *unmadeError
		closed  *unreadError
		stopped *stoppedError
		refusal *brep.Refusal
		leak    *mold.LeakError
		exists  *outdir.ExistsError
		foreign *outdir.ForeignError
		path    *fs.PathError
		link    *os.LinkError
		call    *os.SyscallError
	)
	one := func(hint string) []message { return []message{{err.Error(), hint}} }
	switch {
	case errors.Is(err, context.Canceled):
		if errors.As(err, &stopped) {
			return exitInterrupted, one("")
		}
		return exitInterrupted, []message{{text: "interrupted; nothing was left behind"}}
	case errors.As(err, &usage):
		return exitUsage, one(usage.hint)
	case errors.As(err, &refused):
		return codeOf(refused.Stage), ofFaults(refused.Faults)
	case errors.As(err, &closed):
		return exitFiles, one(closed.hint)
	case errors.As(err, &unmade):
		return unmade.code(), one("")
	case errors.As(err, &refusal):
		return exitGeometry, one("move or resize one of them by a few tenths of a millimeter")
	case errors.As(err, &leak):
		return exitGeometry, one("")
	case errors.As(err, &exists):
		return exitFiles, one("choose another place, or replace it with --force")
	case errors.As(err, &foreign):
		return exitFiles, one("choose another place, or move that away first")
	case errors.Is(err, syscall.EPIPE): // had enough, and need not be told
		return exitUnread, nil
	case errors.As(err, &path), errors.As(err, &link), errors.As(err, &call):
		return exitFiles, []message{{fileText(err, path), hintForFiles(err)}}
	}
	return exitOther, one("this should not happen; please report it together with the job file")
}

// codeOf tells values that cannot be from geometry that cannot be.
func codeOf(s study.Stage) int {
	if s == study.Layout {
		return exitGeometry
	}
	return exitJob
}

// hiddenName is that under which a file or folder is made before it appears under its own.
var hiddenName = regexp.MustCompile(`\.([^/\\]+)\.wheelmold-[0-9]+-[0-9]+`)

// fileText is an error of the file system by the names that the builder knows: without
// hidden ones, and with the folder that is missing on the way to them. The path may be nil.
func fileText(err error, path *fs.PathError) string {
	if path != nil && hiddenName.MatchString(path.Path) && errors.Is(err, fs.ErrNotExist) {
		dir := filepath.Dir(path.Path)
		if _, none := os.Stat(dir); errors.Is(none, fs.ErrNotExist) {
			return fmt.Sprintf("the folder %s does not exist", dir)
		}
	}
	return hiddenName.ReplaceAllString(err.Error(), "$1")
}

func hintForFiles(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "check the path; folders on the way to it must exist"
	case errors.Is(err, fs.ErrPermission):
		return "choose a place where you may write"
	case errors.Is(err, syscall.EROFS):
		return "choose a place that can be written"
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return "make room there, or choose a place with more of it"
	}
	return ""
}
