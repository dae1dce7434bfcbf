package castlog

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// A header that was cut off is written anew, so that the file stays a log.
func TestHeaderCutOff(t *testing.T) {
	path := filepath.Join(t.TempDir(), "wheel.casts")
	if err := os.WriteFile(path, []byte(Header[:9]), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := Append(path, Record{Kind: Cast, Date: "2026-05-01"}); err != nil {
		t.Fatal(err)
	}
	src, err := os.ReadFile(path)
	if lines := strings.Split(string(src), "\n"); err != nil || len(lines) != 4 || lines[1] != Header {
		t.Errorf("%q, %v", lines, err)
	}
}

// Of a file that is no log, the first faults are kept and all are counted.
func TestMostFaults(t *testing.T) {
	for n, kept := range map[int]int{MaxFaults - 1: MaxFaults - 1, MaxFaults: MaxFaults, 100000: MaxFaults} {
		l, err := Read(strings.NewReader(Header + "\n" + strings.Repeat("x\n", n)))
		if err != nil || len(l.Faults) != kept || l.Damaged != n || l.Faults[kept-1].Line != kept+1 {
			t.Errorf("of %d faults %d are kept and %d counted, %v", n, len(l.Faults), l.Damaged, err)
		}
	}
}

// What is neither file nor folder is no log.
func TestDeviceIsNoLog(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("its null device has no mode")
	}
	if err := Append(os.DevNull, Record{Kind: Cast, Date: "2026-05-01"}); err == nil || !strings.Contains(err.Error(), "not a file") {
		t.Errorf("appended to a device: %v", err)
	}
	if _, err := ReadFile(os.DevNull); err == nil || !strings.Contains(err.Error(), "not a file") {
		t.Errorf("read from a device: %v", err)
	}
}

// A file of the greatest size is read to its end; a byte more is told.
func TestGreatestSize(t *testing.T) {
	for more, want := range []int{0, 1} {
		l, err := Read(bytes.NewReader(bytes.Repeat([]byte("\n"), MaxSize+more)))
		if err != nil || len(l.Faults) != want {
			t.Errorf("%d bytes too many: %v, %v", more, l.Faults, err)
		}
	}
}

// A mold may be as hot as 300 °C, and what is no number is refused.
func TestRangeOfANumber(t *testing.T) {
	for hot, sound := range map[float64]bool{300: true, 301: false, -50: true, -51: false, math.NaN(): false} {
		r := Record{Kind: Cast, Date: "2026-05-01", Mold: Of(hot)}
		if err := r.Check(); (err == nil) != sound {
			t.Errorf("a mold of %g °C: %v", hot, err)
		}
	}
}

// A gap told by mass has a spread of 0.5, so that one cast is sure to a factor of
// exp(2.91999·0.5). An interval may reach past what the job's key may be.
func TestOneCastByMass(t *testing.T) {
	f := Learn(log(Record{ExpectedFlash: Of(4), FlashMass: Of(4)})).Gap
	if want := math.Exp(2.91999 * .5); !near(f.Ratio, 1) || !near(f.High, want) || !near(1/f.Low, want) {
		t.Errorf("%+v, want a factor of %.3f", f, want)
	}
	if f := Learn(log(Record{ExpectedGap: Of(10), Flash: Of(.04)})).Gap; !near(f.Ratio, 4) || f.High < 5 || f.Beyond {
		t.Errorf("%+v, want 4, and likely more than 5", f)
	}
}

// Ratios that were in force change neither a gap by mass nor a shrinkage.
func TestEveryRatioInForce(t *testing.T) {
	l := Learn(log(Record{ExpectedFlash: Of(4), FlashMass: Of(4), GapRatio: Of(1.5), Cavity: Of(120), ExpectedCured: Of(119.25), Diameter: Of(119.25), ShrinkageRatio: Of(1.5)}))
	if !near(l.Gap.Ratio, 1.5) || !near(l.Shrinkage.Ratio, 1.5) {
		t.Errorf("%g and %g, want 1.5 of both", l.Gap.Ratio, l.Shrinkage.Ratio)
	}
}

// Of three casts, one is odd beyond three spreads of 0.25 from the median; of two, neither
// is, and the median lies midway.
func TestOddCasts(t *testing.T) {
	of := func(logs ...float64) *Finding {
		var casts []Record
		for _, y := range logs {
			casts = append(casts, Record{ExpectedResidue: Of(10), Residue: Of(10 * math.Exp(y))})
		}
		return &Learn(log(casts...)).Residue
	}
	for y, odd := range map[float64]int{.74: 0, .76: 1} {
		if f := of(0, 0, y); len(f.Notes) != odd {
			t.Errorf("%g beyond the median: %q", y, f.Notes)
		}
	}
	if f := of(0, 2); len(f.Notes) > 0 || !near(f.Median, math.E) {
		t.Errorf("two casts: median %g, %q", f.Median, f.Notes)
	}
}
