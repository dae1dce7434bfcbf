package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"wheelmold/params"
)

// length is a flag that holds a length with its unit.
type length struct {
	mm     float64
	lo, hi float64 // mm; hi 0: no limits
}

func (l *length) String() string { return params.Format(params.Length, l.mm) }
func (l *length) Type() string   { return "length" }

func (l *length) Set(s string) error {
	mm, err := params.ParseLength(s)
	if err != nil {
		return err
	}
	if l.hi > 0 && !(mm >= l.lo && mm <= l.hi) {
		return fmt.Errorf("%s is not within %s to %s", s, params.Format(params.Length, l.lo), params.Format(params.Length, l.hi))
	}
	l.mm = mm
	return nil
}

// meshTolerance is the flag --tolerance by default. Below a micrometer no machine
// follows, and meshes become huge; above a millimeter they look like nothing.
func meshTolerance() length { return length{mm: 0.01, lo: 0.001, hi: 1} }

// choice is a flag that holds some of several words, as in "stl,3mf". All of
// them, in the order of the options, if empty.
type choice struct {
	options []string
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
	return len(c.chosen) == 0 || slices.Contains(c.chosen, word)
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
