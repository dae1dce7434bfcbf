package sources

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Each of these can change the bundle, so that a change of it has to be told.
func TestSourcesAreAllThatMakesTheBundle(t *testing.T) {
	folder := t.TempDir()
	gomod := filepath.Join(folder, "go.mod")
	files := map[string]string{
		"bundle/viewer.js": "", "generate/main.go": "", "package.json": "", "package-lock.json": "", "tsconfig.json": "",
		"src/main.ts": "", "src/light.glsl": "", "go.mod": "require (\n\tgithub.com/evanw/esbuild v0.1.2\n)\n",
	}
	write := func(file, text string) {
		path := filepath.Join(folder, filepath.FromSlash(file))
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o755), os.WriteFile(path, []byte(text), 0o644)); err != nil {
			t.Fatal(err)
		}
	}
	sums := func() string {
		list, err := Checksums(folder, gomod)
		if err != nil {
			t.Fatal(err)
		}
		return string(list)
	}
	for file, text := range files {
		write(file, text)
	}
	before := sums()
	for file, text := range files {
		write(file, strings.Replace(text, "v0.1.2", "v0.1.3", 1)+"\n")
		if sums() == before {
			t.Errorf("a change of %s goes unseen", file)
		}
		write(file, text)
		if sums() != before {
			t.Errorf("the same %s does not count as such", file)
		}
	}
}
