package main

import (
	"fmt"
	"runtime/debug"

	"github.com/spf13/cobra"
)

// version is the program's, written into every manifest.
const version = "0.1.0"

const program = "wheelmold " + version

func newVersion() *cobra.Command {
	return &cobra.Command{
		Use:     "version",
		Short:   "Print the version",
		Example: "  wheelmold version",
		Args:    needs(0, "no arguments"),
		RunE: func(c *cobra.Command, _ []string) error {
			_, err := fmt.Fprintln(c.OutOrStdout(), program+origin())
			return err
		},
	}
}

// origin tells the compiler and, where known, the commit that the program was
// built from.
func origin() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return ""
	}
	s := " (" + info.GoVersion
	for _, v := range info.Settings {
		switch {
		case v.Key == "vcs.revision":
			s += ", " + v.Value
		case v.Key == "vcs.modified" && v.Value == "true":
			s += ", modified"
		}
	}
	return s + ")"
}
