// Package sources knows what the page's bundled script is made from. Its generator
// records that, and a test compares it with what is there. It says nothing of
// node_modules, which npm ci puts there as package-lock.json says.
package sources

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
)

// Record is the file that the generator writes, below mold/report/web.
const Record = "bundle/sources.sha256"

// Checksums returns the SHA-256 of the bundle in a folder and of all files there that
// it follows from, in the format of sha256sum, under the version of the bundler, which
// stands in the module's go.mod.
func Checksums(folder, gomod string) ([]byte, error) {
	bundler, err := version(gomod)
	if err != nil {
		return nil, err
	}
	files := []string{"bundle/viewer.js", "generate/main.go", "package-lock.json", "package.json", "tsconfig.json"}
	scripts, err := filepath.Glob(filepath.Join(folder, "src", "*"))
	if err != nil {
		return nil, err
	}
	for _, s := range scripts {
		files = append(files, "src/"+filepath.Base(s))
	}
	slices.Sort(files)
	var b bytes.Buffer
	fmt.Fprintf(&b, "# %s\n", bundler) // a comment to sha256sum
	for _, f := range files {
		data, err := os.ReadFile(filepath.Join(folder, filepath.FromSlash(f)))
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(&b, "%x  %s\n", sha256.Sum256(data), f)
	}
	return b.Bytes(), nil
}

var required = regexp.MustCompile(`(?m)^\s*(?:require\s+)?github\.com/evanw/(esbuild v\S+)`)

// version finds the bundler's in go.mod.
func version(gomod string) (string, error) {
	text, err := os.ReadFile(gomod)
	if err != nil {
		return "", err
	}
	m := required.FindSubmatch(text)
	if m == nil {
		return "", fmt.Errorf("%s requires no esbuild", gomod)
	}
	return string(m[1]), nil
}
