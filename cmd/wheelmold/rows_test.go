package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"wheelmold/mold/report"
)

// tableRows is a table as programs read it.
type tableRows struct {
	Rows []struct {
		Name     string         `json:"name"`
		Values   map[string]any `json:"values"`
		Figures  map[string]any `json:"figures"`
		Faults   []string       `json:"faults"`
		Warnings []string       `json:"warnings"`
	} `json:"rows"`
}

func rowsOf(t *testing.T, args ...string) tableRows {
	t.Helper()
	var out, messages bytes.Buffer
	if code := run(context.Background(), append(args, "--format", "json"), streams{nil, &out, &messages}); code != exitDone {
		t.Fatalf("%v: exit code %d: %s", args, code, &messages)
	}
	var rows tableRows
	if err := json.Unmarshal(out.Bytes(), &rows); err != nil {
		t.Fatal(err)
	}
	return rows
}

// checkAgrees compares a row with what check says of the same settings.
func checkAgrees(t *testing.T, name string, row map[string]any, c *report.Check) {
	t.Helper()
	line, drips, opening, seam := &c.Flash.Lines[0], 0.0, 0.0, 0.0
	for i := range c.Flash.Lines {
		l := &c.Flash.Lines[i]
		if l.Mass > line.Mass {
			line = l
		}
		drips, opening, seam = max(drips, l.Drips), max(opening, l.Opening), seam+l.Seam
	}
	want := map[string]any{
		"pieces": float64(len(c.Pieces) - 1), "block_x_mm": c.Outline.Size[0], "block_y_mm": c.Outline.Size[1], "block_z_mm": c.Outline.Size[2],
		"grade": c.Flash.Grade, "lost_p50_g": c.Flash.Lost.P50, "lost_p90_g": c.Flash.Lost.P90,
		"worst_line": line.Name, "worst_grade": line.Grade, "drip_chance": drips, "opening_chance": opening,
		"pour_s": nil, "pour_verdict": c.Pour.Verdict, "wheel_g": c.Pour.Weights.Wheel,
		"release": c.Release.Grade, "release_reason": c.Release.Reason,
	}
	if run := c.Pour.Sprue.Run; run != nil {
		want["pour_s"] = *run
	}
	if gated := row["pour_s"] != nil; gated == c.Pour.Air.OpenTop {
		t.Errorf("%s: to run in through gates takes %v", name, row["pour_s"])
	}
	if p := c.Printing; p != nil {
		want["print_g"], want["print_s"], want["bed_loads"], want["pieces_off_the_bed"] = p.Mass, p.Time, float64(len(p.Loads)), float64(len(p.Misfits))
	}
	if _, swept := row["rubber_mm3"]; swept {
		a, b := 0.0, 0.0
		for _, x := range c.Pour.Batch.Components {
			if x.Name == "A" {
				a += float64(c.Pour.Batches) * x.Add
			} else {
				b += float64(c.Pour.Batches) * x.Add
			}
		}
		for k, v := range map[string]any{
			"rubber_mm3": c.Rubber.ClosedForm, "poured_g": c.Pour.Poured, "mixed_g": c.Pour.Mixed, "a_g": a, "b_g": b, "batches": float64(c.Pour.Batches),
			"kits": float64(c.Pour.Kits.Systems[0].Kits), "cost_per_wheel_by_use": c.Pour.Kits.Material, "cost_per_wheel_by_kits": c.Pour.Kits.Bought,
			"worst_flash_p50_g": line.Flash.P50, "worst_flash_p90_g": line.Flash.P90, "trapped_mm3": c.Pour.Air.Volume,
		} {
			want[k] = v
		}
	} else {
		want["seam_mm"], want["parting_lines"] = seam, float64(len(c.Flash.Lines))
	}
	for k, v := range want {
		if row[k] != v {
			t.Errorf("%s: %s is %v, check says %v", name, k, row[k], v)
		}
	}
	// What is missing above are prints of a mold that is milled.
	for k := range row {
		if _, known := want[k]; !known && row[k] != nil {
			t.Errorf("%s: nobody checked %s", name, k)
		}
	}
}

// A row of a sweep is the single run with the same settings.
func TestSweepIsSingleRuns(t *testing.T) {
	job := filepath.Join("..", "..", "examples", "wren.toml")
	rows := rowsOf(t, "sweep", job, "--set", "wheel.diameter=40mm..44mm/4mm", "--set", "mold.split=four-piece,clam", "--set", "pour.kit.mass=1kg")
	if len(rows.Rows) != 4 {
		t.Fatalf("%d rows", len(rows.Rows))
	}
	for _, r := range rows.Rows {
		sets := []string{"--set", fmt.Sprintf("wheel.diameter=%vmm", r.Values["wheel.diameter_mm"]), "--set", "mold.split=" + r.Values["mold.split"].(string), "--set", "pour.kit.mass=1kg"}
		var c report.Check
		jsonOf(t, &c, append([]string{"check", job}, sets...)...)
		checkAgrees(t, r.Name, r.Figures, &c)
		if len(r.Warnings) != len(c.Warnings) {
			t.Errorf("%s: warned of %v, check of %v", r.Name, r.Warnings, c.Warnings)
		}
	}
}

// Nor does a split say anything else than check in that split.
func TestCompareIsSingleRuns(t *testing.T) {
	job := filepath.Join("..", "..", "examples", "wren.toml")
	good := 0
	for _, r := range rowsOf(t, "compare", job, "--set", "wheel.diameter=44mm").Rows {
		if r.Figures == nil {
			if len(r.Faults) == 0 {
				t.Errorf("%s: nothing is known, and no reason", r.Name)
			}
			continue
		}
		good++
		var c report.Check
		jsonOf(t, &c, "check", job, "--set", "wheel.diameter=44mm", "--set", fmt.Sprintf("mold.split=%v", r.Values["split"]), "--set", fmt.Sprintf("mold.segments=%v", r.Values["segments"]))
		checkAgrees(t, r.Name, r.Figures, &c)
		if own := r.Values["split"] == "four-piece" && r.Values["segments"] == 2.0; r.Values["own"] != own {
			t.Errorf("%s: own is %v", r.Name, r.Values["own"])
		}
	}
	if good < 4 {
		t.Errorf("only %d splits could be made", good)
	}
}

// An interrupt ends a sweep at once and leaves nothing, built or not.
func TestInterruptedSweep(t *testing.T) {
	job := filepath.Join("..", "..", "examples", "kestrel.toml")
	for _, more := range [][]string{nil, {"--build", "-o"}} {
		dir := t.TempDir()
		args := []string{"sweep", job, "--set", "wheel.diameter=150mm..180mm/1mm"}
		if more != nil {
			args = append(args, append(more, filepath.Join(dir, "out"))...)
		}
		ctx, cancel := context.WithCancel(context.Background())
		time.AfterFunc(700*time.Millisecond, cancel)
		var out, messages bytes.Buffer
		begun := time.Now()
		code := run(ctx, args, streams{nil, &out, &messages})
		if code != exitInterrupted || out.Len() > 0 || time.Since(begun) > 20*time.Second {
			t.Errorf("%v: exit code %d after %v, output %q", args, code, time.Since(begun), &out)
		}
		if left, _ := os.ReadDir(dir); len(left) > 0 {
			t.Errorf("left behind: %v", left)
		}
	}
}
