package castlog

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"testing"
	"time"

	"pgregory.net/rapid"
)

func TestMain(m *testing.M) {
	if path := os.Getenv("CASTLOG_APPEND"); path != "" {
		appendMany(path, os.Getenv("CASTLOG_NAME"))
		os.Exit(0)
	}
	os.Exit(m.Run())
}

const each = 25 // records of one writer

func appendMany(path, name string) {
	for i := range each {
		if err := Append(path, Record{Kind: Cast, Date: "2026-05-01", Notes: fmt.Sprintf("%s %d", name, i)}); err != nil {
			panic(err)
		}
	}
}

func drawn(t *rapid.T) Record {
	r := Record{
		Kind:   rapid.SampledFrom([]string{Cast, Calibration}).Draw(t, "kind"),
		Date:   rapid.SampledFrom([]string{"2026-05-01", "2024-02-29"}).Draw(t, "date"),
		Result: rapid.SampledFrom(append(Results(), "")).Draw(t, "result"),
		Voids:  rapid.String().Draw(t, "voids"),
		Notes:  rapid.OneOf(rapid.String(), rapid.Just("a sum=00000000 b=\"c\"\n")).Draw(t, "notes"),
		From:   rapid.String().Draw(t, "from"),
	}
	for _, f := range numbers {
		if rapid.Bool().Draw(t, "known") {
			*f.at(&r) = Of(rapid.Float64Range(f.lo, f.hi).Draw(t, f.key))
		}
	}
	if rapid.Bool().Draw(t, "newer") {
		r.Extra = []string{`tilt_deg=3`, `who="me and \"you\""`}
	}
	return r
}

// What is written is what is read, whatever stands in the texts, newer keys included.
func TestWrittenIsRead(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := drawn(t)
		line, err := encode(&want)
		if err != nil {
			t.Fatal(err)
		}
		if strings.ContainsAny(line, "\r\n") {
			t.Fatalf("more than a line: %q", line)
		}
		got, err := decode(line)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(*got, want) {
			t.Fatalf("wrote %+v\nread %+v", want, *got)
		}
	})
}

// A line can be read and written by hand.
func TestLine(t *testing.T) {
	line, err := encode(&Record{Kind: Cast, Date: "2026-05-01", Result: "good", Residue: Of(14.5), Flash: Of(0), Notes: "left shell \"B\" stuck"})
	want := `date=2026-05-01 kind=cast result=good residue_g=14.5 flash_mm=0 notes="left shell \"B\" stuck" sum=`
	if err != nil || len(line) != len(want)+8 || !strings.HasPrefix(line, want) {
		t.Fatalf("%s, %v, want %s", line, err, want)
	}
	// The check value of the catalog of CRC algorithms for CRC-32/ISCSI.
	if got := seal("123456789"); got != "123456789 sum=e3069283" {
		t.Errorf("sealed %s", got)
	}
}

func TestRefusals(t *testing.T) {
	path := filepath.Join(t.TempDir(), "wheel.casts")
	good := Record{Kind: Cast, Date: "2026-05-01"}
	for want, change := range map[string]func(*Record){
		"kind":                   func(r *Record) { r.Kind = "" },
		"date":                   func(r *Record) { r.Date = "2026-02-30" },
		"result":                 func(r *Record) { r.Result = "fine" },
		"residue_g":              func(r *Record) { r.Residue = Of(-1) },
		"hardness":               func(r *Record) { r.Hardness = Of(101) },
		"gap_ratio":              func(r *Record) { r.GapRatio = Of(5.1) },
		"bytes":                  func(r *Record) { r.Notes = strings.Repeat("n", MaxLine) },
		"notes is written twice": func(r *Record) { r.Notes = "a"; r.Extra = []string{"notes=b"} },
		"key=value":              func(r *Record) { r.Extra = []string{"stray"} },
		"value of a":             func(r *Record) { r.Extra = []string{"a=b\nc=d"} },
	} {
		r := good
		change(&r)
		err := Append(path, r)
		if err == nil {
			t.Errorf("%s: taken", want)
		} else if !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", want, err)
		}
	}
	if _, err := os.Stat(path); err == nil {
		t.Error("a refused record made a file")
	}
}

// three is a log of a header and three records.
func three(t *testing.T) (path string, data []byte) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "wheel.casts")
	for i, r := range []Record{
		{Kind: Cast, Date: "2026-05-01", Residue: Of(12), Notes: "first, with ä"},
		{Kind: Calibration, Date: "2026-05-02", GapRatio: Of(1.25), From: "1 cast"},
		{Kind: Cast, Date: "2026-05-03", Result: "usable", Diameter: Of(119.42)},
	} {
		if err := Append(path, r); err != nil {
			t.Fatal(i, err)
		}
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return path, data
}

func read(t *testing.T, data []byte) *Log {
	t.Helper()
	l, err := Read(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Cut off after any byte, a log keeps all records whose lines are whole, tells the rest,
// and takes the next record without touching what was there.
func TestCutOffAnywhere(t *testing.T) {
	path, data := three(t)
	for n := range len(data) + 1 {
		cut := data[:n]
		l := read(t, cut)
		whole := 0
		for _, line := range strings.Split(string(cut), "\n")[min(1, bytes.Count(cut, []byte("\n"))):] {
			if strings.Contains(line, sumKey) && len(line)-strings.LastIndex(line, sumKey) == len(sumKey)+8 {
				whole++
			}
		}
		if len(l.Records) != whole {
			t.Fatalf("%d bytes: %d records, want %d", n, len(l.Records), whole)
		}
		tail := cut[bytes.LastIndexByte(cut, '\n')+1:]
		torn := len(tail) > 0 && string(tail) != Header && (len(data) == n || data[n] != '\n')
		if torn != (len(l.Faults) == 1) {
			t.Fatalf("%d bytes: torn %v, but faults %v", n, torn, l.Faults)
		}
		if err := os.WriteFile(path, cut, 0o666); err != nil {
			t.Fatal(err)
		}
		if err := Append(path, Record{Kind: Cast, Date: "2026-06-01"}); err != nil {
			t.Fatalf("%d bytes: %v", n, err)
		}
		after, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		l2 := read(t, after)
		if !bytes.HasPrefix(after, cut) || len(l2.Records) != whole+1 || l2.Records[whole].Date != "2026-06-01" || len(l2.Faults) != len(l.Faults) {
			t.Fatalf("%d bytes, then a record: %d records, faults %v", n, len(l2.Records), l2.Faults)
		}
	}
}

// Any changed byte is found, and costs no more than the lines that it touches.
func TestChangedByte(t *testing.T) {
	_, data := three(t)
	want := read(t, data)
	if len(want.Faults) > 0 || len(want.Records) != 3 {
		t.Fatalf("%d records, %v", len(want.Records), want.Faults)
	}
	for i := range data {
		for _, flip := range []byte{1, 2, 4, 7, 0x20, 0x80, 0xff} {
			bad := bytes.Clone(data)
			bad[i] ^= flip
			l := read(t, bad)
			if len(l.Faults) == 0 {
				t.Fatalf("byte %d changed by %#x: not found", i, flip)
			}
			if len(l.Records) < 1 {
				t.Fatalf("byte %d changed by %#x: only %d records left", i, flip, len(l.Records))
			}
			for _, r := range l.Records {
				if w := want.Records[min(r.Line, 4)-2]; bad[i] != '\n' && data[i] != '\n' && !reflect.DeepEqual(r, w) {
					t.Fatalf("byte %d changed by %#x: %+v for %+v", i, flip, r, w)
				}
			}
		}
	}
}

// Foreign, repeated, overlong lines and a missing header are told and stop nothing.
func TestFaults(t *testing.T) {
	_, data := three(t)
	lines := strings.Split(strings.TrimSpace(string(data)), "\n")
	for _, c := range []struct {
		name, file string
		records    int
		fault      string // of the only fault
	}{
		{"repeated", strings.Join([]string{lines[0], lines[1], lines[3], lines[1]}, "\n"), 2, "line 4: it repeats line 2"},
		{"foreign", lines[0] + "\nhello\n" + lines[1], 1, "line 2: it has no sum"},
		{"long", lines[0] + "\n" + strings.Repeat("n", 3*MaxLine) + "\n" + lines[1], 1, "line 2: it is 49153 bytes long"},
		{"no header", lines[1] + "\n" + lines[3], 2, "line 1: before the first record should stand"},
		{"newer", "# wheelmold casts, format 2\n" + lines[1], 1, "line 1: the file is of another format"},
		{"sealed nonsense", lines[0] + "\n" + seal("date=2026-05-01 kind=cast mixed_g=lots"), 0, "line 2: mixed_g is \"lots\""},
		{"stray blank", lines[0] + "\n" + seal("date=2026-05-01 kind=cast "), 0, "line 2: after kind"},
		{"editor's line ends", strings.Join(lines, "\r\n") + "\r\n\r\n", 3, ""},
		{"calibration again", strings.Join([]string{lines[0], lines[2], seal("date=2026-05-02 kind=calibration gap_ratio=2"), lines[2]}, "\n"), 3, ""},
		{"huge", strings.Repeat("\n", MaxSize+5), 0, "4 MiB"},
	} {
		l := read(t, []byte(c.file))
		if len(l.Records) != c.records || (c.fault == "") != (len(l.Faults) == 0) || len(l.Faults) > 1 ||
			c.fault != "" && !strings.Contains(l.Faults[0].String(), c.fault) {
			t.Errorf("%s: %d records, faults %v", c.name, len(l.Records), l.Faults)
		}
	}
}

// Goroutines and processes that write at once lose nothing.
func TestManyWriters(t *testing.T) {
	path := filepath.Join(t.TempDir(), "wheel.casts")
	var wg sync.WaitGroup
	for i := range 8 {
		wg.Go(func() { appendMany(path, fmt.Sprint("goroutine ", i)) })
	}
	for i := range 3 {
		wg.Go(func() {
			cmd := exec.Command(os.Args[0])
			cmd.Env = append(os.Environ(), "CASTLOG_APPEND="+path, fmt.Sprint("CASTLOG_NAME=process ", i))
			if out, err := cmd.CombinedOutput(); err != nil {
				t.Errorf("%v: %s", err, out)
			}
		})
	}
	wg.Wait()
	l, err := ReadFile(path)
	if err != nil || len(l.Faults) > 0 || len(l.Records) != 11*each {
		t.Fatalf("%d of %d records, faults %v, %v", len(l.Records), 11*each, l.Faults, err)
	}
}

// A writer waits for the one before it, and sees what that one left behind.
func TestWriterWaits(t *testing.T) {
	path, data := three(t)
	f, err := os.OpenFile(path, os.O_RDWR|os.O_APPEND, 0)
	if err != nil {
		t.Fatal(err)
	}
	if err := lock(f); err != nil {
		t.Fatal(err)
	}
	done := make(chan error)
	go func() { done <- Append(path, Record{Kind: Cast, Date: "2026-06-01"}) }()
	select {
	case err := <-done:
		t.Fatalf("did not wait: %v", err)
	case <-time.After(100 * time.Millisecond):
	}
	if _, err := f.WriteString("date=2026-05-31 ki"); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	if err := <-done; err != nil {
		t.Fatal(err)
	}
	after, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if l := read(t, after); !bytes.HasPrefix(after, data) || len(l.Records) != 4 || len(l.Faults) != 1 || l.Faults[0].Line != 5 {
		t.Errorf("%d records, faults %v", len(l.Records), l.Faults)
	}
}

// What is no log is left alone.
func TestForeignFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "wheel.casts")
	if err := os.WriteFile(path, []byte("[wheel]\ndiameter = \"90 mm\"\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := Append(path, Record{Kind: Cast, Date: "2026-05-01"}); err == nil || !strings.Contains(err.Error(), "first line") {
		t.Errorf("%v", err)
	}
	if err := Append(filepath.Dir(path), Record{Kind: Cast, Date: "2026-05-01"}); err == nil {
		t.Error("appended to a folder")
	}
}

// A log without room for a cast within what is read takes no more: what is added must be
// found again. An editor's byte order mark hides no header.
func TestFullAndMarked(t *testing.T) {
	path := filepath.Join(t.TempDir(), "wheel.casts")
	cast := Record{Kind: Cast, Date: "2026-05-01"}
	if err := os.WriteFile(path, append([]byte(Header+"\n"), bytes.Repeat([]byte("\n"), MaxSize-MaxLine)...), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := Append(path, cast); err == nil || !strings.HasSuffix(err.Error(), "no room for another cast within the 4 MiB that are read: move it away to begin a new log; ratios that were accepted go with it") {
		t.Errorf("%v", err)
	}
	l, err := Read(strings.NewReader("\ufeff" + Header + "\n" + seal("date=2026-05-01 kind=cast") + "\n"))
	if err != nil || len(l.Faults) > 0 || len(l.Records) != 1 {
		t.Errorf("%+v, %v", l, err)
	}
}

func TestCalibrationIsTheLast(t *testing.T) {
	path, _ := three(t)
	if err := Append(path, Record{Kind: Calibration, Date: "2026-05-04", ResidueRatio: Of(0.8), From: "2 casts"}); err != nil {
		t.Fatal(err)
	}
	l, err := ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	c, from := l.Calibration()
	if c.Gap != 1.25 || c.Residue != 0.8 || c.Shrinkage != 1 || from != "2 casts" || len(l.Casts()) != 2 {
		t.Errorf("%+v from %q, %d casts", c, from, len(l.Casts()))
	}
	none, err := ReadFile(path + ".none")
	if c, from := none.Calibration(); err != nil || c.Gap != 1 || c.Residue != 1 || c.Shrinkage != 1 || from != "" {
		t.Errorf("without a log %+v from %q, %v", c, from, err)
	}
}

func TestPathFor(t *testing.T) {
	for job, want := range map[string]string{"wheel.toml": "wheel.casts", "a.b/wheel": "a.b/wheel.casts", "w.2.toml": "w.2.casts", "w-1.5in": "w-1.5in.casts"} {
		if got := PathFor(filepath.FromSlash(job)); got != filepath.FromSlash(want) {
			t.Errorf("%s: %s", job, got)
		}
	}
}

// Whatever a file holds: no panic, every line with text is a record, a header or a
// fault, and what was read can be written and read again.
func FuzzRead(f *testing.F) {
	f.Add([]byte(Header + "\n" + seal(`date=2026-05-01 kind=cast notes="a"`) + "\n"))
	f.Add([]byte(seal(`date=2026-05-01 kind=calibration gap_ratio=1.5 new="x"`)))
	f.Add([]byte("# wheelmold ca\n\n\x00sum=00000000"))
	f.Fuzz(func(t *testing.T, data []byte) {
		l := read(t, data)
		told := map[int]bool{}
		for _, r := range l.Records {
			line, err := encode(&r)
			if err != nil {
				t.Fatal(err)
			}
			again, err := decode(line)
			if err != nil {
				t.Fatal(err)
			}
			told[r.Line] = true
			if again.Line = r.Line; !reflect.DeepEqual(*again, r) {
				t.Fatalf("%+v became %+v", r, *again)
			}
		}
		for _, f := range l.Faults {
			told[f.Line] = true
		}
		for i, line := range strings.Split(strings.TrimPrefix(string(data), "\ufeff"), "\n") {
			if line = strings.TrimSuffix(line, "\r"); line != "" && line != Header && !told[i+1] && l.Damaged <= MaxFaults {
				t.Fatalf("line %d, %q, was dropped", i+1, line)
			}
		}
	})
}
