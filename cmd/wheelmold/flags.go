package main

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"wheelmold/mold"
	"wheelmold/mold/export"
	"wheelmold/mold/handover"
	"wheelmold/mold/report"
	"wheelmold/params"
)

// length is a flag that holds a length with its unit.
type length struct {
	mm     float64
	lo, hi float64 // mm; hi 0: no limits
	typed  string  // "" if it was not
}

func (l *length) String() string { return cmp.Or(l.typed, params.Format(params.Length, l.mm)) }
func (l *length) Type() string   { return "length" }

func (l *length) Set(s string) error {
	mm, err := params.ParseLength(s)
	if err != nil {
		return err
	}
	if l.hi > 0 && !(mm >= l.lo && mm <= l.hi) {
		return fmt.Errorf("%s is not within %s to %s", s, params.Format(params.Length, l.lo), params.Format(params.Length, l.hi))
	}
	l.mm, l.typed = mm, s
	return nil
}

// meshTolerance is the flag --tolerance by default. Below a micrometer no machine
// follows, and meshes become huge (see [finest], too); above a millimeter they look like
// nothing.
func meshTolerance() length { return length{mm: 0.01, lo: 0.001, hi: 1} }

// meshFlags are the flags that all commands share which make folders.
type meshFlags struct {
	out       string
	tolerance length
	formats   choice
	pictures  bool
}

// register adds the flags. format is what the flag for the formats is called, and when is
// said behind each where it does not always count.
func (m *meshFlags) register(c *cobra.Command, format, when string) {
	all := slices.Concat(export.Formats, shopFormats)
	m.tolerance, m.formats = meshTolerance(), choice{options: all, usual: slices.Concat(export.Formats, []string{handover.STEP, handover.PDF})}
	f := c.Flags()
	f.StringVarP(&m.out, "output", "o", "", "folder to make"+when)
	f.Var(&m.tolerance, "tolerance", "largest distance of a mesh from the true surface"+when)
	f.Var(&m.formats, format, "what to write"+when+", of stl, 3mf, step, dxf and pdf (default all but dxf)")
	f.BoolVar(&m.pictures, "pictures", false, "draw molds apart and cut open, and each piece, as PNG files"+when)
	c.MarkFlagDirname("output")
	c.RegisterFlagCompletionFunc(format, cobra.FixedCompletions(all, cobra.ShellCompDirectiveNoFileComp))
}

// placed reports that no folder was named.
func (m *meshFlags) placed() error {
	if m.out == "" {
		return usagef("add -o DIR", "no folder to make was named")
	}
	return nil
}

// making is what the flags say of a folder.
func (m *meshFlags) making(dir string, progress func(mold.Stage)) making {
	return making{dir: dir, tolerance: m.tolerance.mm, formats: m.formats, pictures: m.pictures, progress: progress}
}

// choice is a flag that holds some of several words, as in "stl,3mf". If empty,
// the usual ones, or all.
type choice struct {
	options []string
	usual   []string // if none is chosen; empty: all
	chosen  []string
}

func (c *choice) String() string { return strings.Join(c.chosen, ",") }
func (c *choice) Type() string   { return "list" }

func (c *choice) Set(s string) error {
	for word := range strings.SplitSeq(s, ",") {
		word = strings.TrimSpace(word)
		if !slices.Contains(c.options, word) {
			hint := ""
			if n := params.Nearest(word, c.options); n != "" {
				hint = fmt.Sprintf("; did you mean %q?", n)
			}
			return fmt.Errorf("%q is none of %s%s", word, strings.Join(c.options, ", "), hint)
		}
		if !slices.Contains(c.chosen, word) {
			c.chosen = append(c.chosen, word)
		}
	}
	return nil
}

// has reports whether the word is chosen.
func (c *choice) has(word string) bool {
	if len(c.chosen) == 0 {
		return len(c.usual) == 0 || slices.Contains(c.usual, word)
	}
	return slices.Contains(c.chosen, word)
}

// pieceNames are the pieces of all splits, the hub included.
var pieceNames = []string{
	"base", "shell-a", "shell-b", "shell-c", "shell-d", "half-a", "half-b", "cup", "lid", "strap", "hub",
}

// someOf is the flag --only: pieces of a mold, whose names are known once it is laid
// out. All of them if empty.
type someOf struct{ names []string }

func (s *someOf) String() string { return strings.Join(s.names, ",") }
func (s *someOf) Type() string   { return "list" }

func (s *someOf) Set(text string) error {
	for name := range strings.SplitSeq(text, ",") {
		if name = strings.TrimSpace(name); !slices.Contains(s.names, name) {
			s.names = append(s.names, name)
		}
	}
	return nil
}

// has reports whether a piece is asked for.
func (s *someOf) has(piece string) bool { return len(s.names) == 0 || slices.Contains(s.names, piece) }

// check refuses names that are none of the mold's pieces.
func (s *someOf) check(m *mold.Mold) error {
	c := choice{}
	for _, p := range m.Pieces {
		c.options = append(c.options, p.Name)
	}
	for _, name := range s.names {
		if err := c.Set(name); err != nil {
			return usagef(fmt.Sprintf("these are the pieces of the split %q", m.Job.Mold.Split), "--only: %w", err)
		}
	}
	return nil
}

// settings is the flag --set.
type settings struct {
	list []params.Setting
	text []string // as given
}

func (s *settings) String() string { return strings.Join(s.text, " ") }
func (s *settings) Type() string   { return "key=value" }

func (s *settings) Set(text string) error {
	set, err := params.ParseSetting(text)
	if err != nil {
		return err
	}
	s.list = append(s.list, set)
	s.text = append(s.text, text)
	return nil
}

func (s *settings) register(c *cobra.Command) {
	c.Flags().Var(s, "set", "override a value of the job, as in wheel.diameter=90mm; may be repeated")
	c.RegisterFlagCompletionFunc("set", completeKey)
}

// completeKey offers the keys of a job file.
func completeKey(c *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
	var out []string
	for _, k := range params.Keys() {
		if strings.HasPrefix(k.Path, begun) {
			out = append(out, k.Path+"=\t"+k.Doc)
		}
	}
	return out, cobra.ShellCompDirectiveNoSpace | cobra.ShellCompDirectiveNoFileComp
}

// result prints what a command found, as JSON or as text.
func result(c *cobra.Command, asJSON bool, r interface{ WriteText(io.Writer) error }) error {
	if asJSON {
		return report.WriteJSON(c.OutOrStdout(), r)
	}
	return r.WriteText(c.OutOrStdout())
}
