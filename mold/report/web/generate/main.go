// Command generate bundles the page's script from src and the libraries that npm has
// put into node_modules, and records what it was made from. It is run by go generate
// in mold/report/web, after npm ci, and gives the same bytes every time.
package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/evanw/esbuild/pkg/api"

	"wheelmold/mold/report/web/sources"
)

const (
	bundle  = "bundle/viewer.js"
	license = "node_modules/three/LICENSE"
)

func main() {
	if err := generate(); err != nil {
		fmt.Fprintln(os.Stderr, "generate: error:", err)
		os.Exit(1)
	}
}

// generate writes the bundle and the list of its sources.
func generate() error {
	terms, err := os.ReadFile(license)
	if err != nil {
		return fmt.Errorf("%w: run npm ci first", err)
	}
	script, err := build(string(terms))
	if err != nil {
		return err
	}
	if bytes.Contains(bytes.ToLower(script), []byte("</script")) {
		return errors.New("the bundle would end the element that holds it")
	}
	if err := os.WriteFile(bundle, script, 0o644); err != nil {
		return err
	}
	list, err := sources.Checksums(".", "../../../go.mod")
	if err != nil {
		return err
	}
	return os.WriteFile(sources.Record, list, 0o644)
}

// build returns the script: one function for a script element, without a module or
// anything to load, for browsers of 2020 and later.
func build(terms string) ([]byte, error) {
	r := api.Build(api.BuildOptions{
		EntryPoints:       []string{"src/main.ts"},
		Bundle:            true,
		Format:            api.FormatIIFE,
		Target:            api.ES2020,
		MinifyWhitespace:  true,
		MinifyIdentifiers: true,
		MinifySyntax:      true,
		Charset:           api.CharsetASCII,
		LegalComments:     api.LegalCommentsNone, // the banner says it once, and whole
		Banner:            map[string]string{"js": banner(terms)},
		LogLevel:          api.LogLevelSilent,
	})
	var errs []error
	for _, m := range slices.Concat(r.Errors, r.Warnings) {
		at := ""
		if m.Location != nil {
			at = fmt.Sprintf("%s:%d:%d: ", m.Location.File, m.Location.Line, m.Location.Column)
		}
		errs = append(errs, errors.New(at+m.Text))
	}
	if len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	return r.OutputFiles[0].Contents, nil
}

// banner is the license of the library inside, as the license asks, in ASCII.
func banner(terms string) string {
	var b strings.Builder
	b.WriteString("/*!\n * This script contains three.js, under this license:\n *\n")
	for line := range strings.Lines(strings.ReplaceAll(strings.TrimSpace(terms), "©", "(c)")) {
		b.WriteString(strings.TrimRight(" * "+strings.TrimSpace(line), " ") + "\n")
	}
	b.WriteString(" */")
	return b.String()
}
