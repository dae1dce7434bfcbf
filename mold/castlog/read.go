package castlog

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strings"

	"wheelmold/params"
)

// Header is the first line of a log.
const Header = "# wheelmold casts, format 1"

const (
	// MaxLine is the longest line, in bytes, that is written or read.
	MaxLine = 16 << 10
	// MaxSize is how much of a file is read, in bytes: some thousands of casts.
	MaxSize = 4 << 20
	// MaxFaults is how many faults are kept: a file of MaxSize can hold a million.
	MaxFaults = 50
)

// Log is what a file holds.
type Log struct {
	Records []Record // intact, in the order of the file
	Faults  []Fault  // the first MaxFaults lines that are no intact record, in the order of the file
	Damaged int      // how many such lines there are
}

// Fault is a line that could not be used.
type Fault struct {
	Line  int
	Cause string
}

// String tells the line's number and its cause.
func (f Fault) String() string { return fmt.Sprintf("line %d: %s", f.Line, f.Cause) }

// PathFor is the file of casts beside a job, by the name under which the job is asked for:
// wheel.casts for wheel.toml, and wheel-1.5in.casts for wheel-1.5in.
func PathFor(job string) string { return strings.TrimSuffix(job, ".toml") + ".casts" }

// ReadFile reads a log; a file that does not exist is an empty one.
func ReadFile(path string) (*Log, error) {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return nil, &fs.PathError{Op: "read", Path: path, Err: errors.New("it is not a file")}
	}
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return &Log{}, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return Read(f)
}

// Read reads a log. The error is that of the reader alone: whatever the lines hold
// becomes records and faults.
func Read(in io.Reader) (*Log, error) {
	src := bufio.NewReader(io.LimitReader(in, MaxSize+1))
	rd := reader{seen: map[string]int{}}
	var size int
	for {
		line, n, err := nextLine(src)
		if err != nil && err != io.EOF {
			return nil, err
		}
		size += n
		if size > MaxSize {
			rd.line++
			rd.fault(fmt.Sprintf("the file is longer than %d MiB: from here on it is not read", MaxSize>>20))
			break
		}
		if n > 0 {
			rd.take(line, n)
		}
		if err == io.EOF {
			break
		}
	}
	return &rd.log, nil
}

// nextLine reads up to a newline, which it takes off, with a carriage return that an
// editor put before it. Of a long line it keeps MaxLine+1 bytes; n counts all.
func nextLine(src *bufio.Reader) (line []byte, n int, err error) {
	for {
		part, err := src.ReadSlice('\n')
		n += len(part)
		line = append(line, part[:min(len(part), MaxLine+3-len(line))]...)
		if err == bufio.ErrBufferFull {
			continue
		}
		if err == nil {
			line = bytes.TrimSuffix(bytes.TrimSuffix(line, []byte("\n")), []byte("\r"))
		}
		return line, n, err
	}
}

// reader collects the lines of a log.
type reader struct {
	log    Log
	line   int
	headed bool
	seen   map[string]int // casts to their first line
	last   string         // the calibration before
}

func (rd *reader) fault(cause string) {
	if rd.log.Damaged++; rd.log.Damaged <= MaxFaults {
		rd.log.Faults = append(rd.log.Faults, Fault{rd.line, cause})
	}
}

// take sorts one line among records and faults.
func (rd *reader) take(line []byte, n int) {
	rd.line++
	text := string(line)
	if rd.line == 1 {
		text = strings.TrimPrefix(text, "\ufeff") // editors' byte order mark
	}
	switch {
	case text == "":
		return
	case text == Header:
		rd.headed = true
		return
	case !rd.headed:
		rd.headed = true // said once
		rd.fault(headless(text))
		if strings.HasPrefix(text, "#") {
			return
		}
	}
	if len(text) > MaxLine {
		rd.fault(fmt.Sprintf("it is %d bytes long, more than %d", n, MaxLine))
		return
	}
	r, err := decode(text)
	if err != nil {
		rd.fault(err.Error())
		return
	}
	if first, twice := rd.seen[text]; twice {
		rd.fault(fmt.Sprintf("it repeats line %d and counts once; another cast of that day needs a note of its own", first))
		return
	}
	if r.Kind == Calibration {
		// An older calibration may come into force again.
		delete(rd.seen, rd.last)
		rd.last = text
	}
	rd.seen[text] = rd.line
	r.Line = rd.line
	rd.log.Records = append(rd.log.Records, *r)
}

// headless says what stands where the header should.
func headless(text string) string {
	if strings.HasPrefix(text, "# wheelmold casts, format ") {
		return fmt.Sprintf("the file is of another format: this program knows %q; lines are read as far as they can be", Header)
	}
	return fmt.Sprintf("before the first record should stand %q: put it there before casts are added", Header)
}

// Repeats is the line of a record that says the same; 0 without one.
func (l *Log) Repeats(r Record) int {
	line, err := encode(&r)
	if err != nil {
		return 0
	}
	for i := range l.Records {
		if old, err := encode(&l.Records[i]); err == nil && old == line && r.Kind == Cast {
			return l.Records[i].Line
		}
	}
	return 0
}

// Casts are the records of casts.
func (l *Log) Casts() []Record {
	var out []Record
	for _, r := range l.Records {
		if r.Kind == Cast {
			out = append(out, r)
		}
	}
	return out
}

// Calibration is what was accepted last, 1 where nothing was, and the casts that it
// rests on in the words of its record; empty without any.
func (l *Log) Calibration() (c params.Calibration, from string) {
	c = params.Calibration{Gap: 1, Residue: 1, Shrinkage: 1}
	for _, r := range l.Records {
		if r.Kind != Calibration {
			continue
		}
		c.Gap, c.Residue, c.Shrinkage = r.GapRatio.Or(c.Gap), r.ResidueRatio.Or(c.Residue), r.ShrinkageRatio.Or(c.Shrinkage)
		from = r.From
	}
	return c, from
}
