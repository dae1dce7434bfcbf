package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// reaching are the packages of the standard library by which a program reaches beyond
// its machine, or runs what may.
var reaching = []string{"net", "net/http", "net/rpc", "net/smtp", "net/textproto", "crypto/tls", "log/syslog", "os/exec", "plugin"}

// reachingWhy are those that are linked all the same, by who imports them. None of this
// runs: on Linux TestNoCommandOpensASocket holds that.
var reachingWhy = map[string]string{
	"github.com/spf13/pflag net":                 "types of flags that hold addresses; none is declared here",
	"github.com/schollz/progressbar/v3 net/http": "a bar can serve its state, if asked to; this one is not",
	"golang.org/x/sys/windows net":               "a type of its sockets; only files and terminals of it are used",
}

// The program's own code imports nothing that reaches out, and of what others wrote it
// is known who does, and why.
func TestWhatIsLinkedToReachOut(t *testing.T) {
	found := map[string]bool{}
	for _, system := range systems {
		for _, line := range goList(t, system, `{{if not .Standard}}{{.ImportPath}}|{{join .Imports " "}}{{end}}`) {
			path, imports, _ := strings.Cut(line, "|")
			for _, dep := range strings.Fields(imports) {
				if slices.Contains(reaching, dep) || under(dep, "golang.org/x/net") {
					found[path+" "+dep] = true
				}
			}
		}
	}
	explained(t, found, reachingWhy, "linked")
}

// explained holds what was found to a table of reasons, either way.
func explained(t *testing.T, found map[string]bool, why map[string]string, what string) {
	t.Helper()
	for _, f := range slices.Sorted(maps.Keys(found)) {
		if why[f] == "" {
			t.Errorf("%s without a reason: %s", what, f)
		}
	}
	for f := range why {
		if !found[f] {
			t.Errorf("no longer %s: %s", what, f)
		}
	}
}

// environmentWhy are the places of linked code that read the environment, and what each
// reads it for. README names the variables. The standard library has its own, as the
// language's documentation says.
var environmentWhy = map[string]string{
	`wheelmold/cmd/wheelmold os.Getenv("GOGC")`:                "leaves the collector as the user set it",
	`wheelmold/cmd/wheelmold os.Getenv("GOMEMLIMIT")`:          "the same",
	`github.com/fsnotify/fsnotify os.Getenv("FSNOTIFY_DEBUG")`: "prints what build --watch hears",
	`github.com/spf13/cobra os.Getenv("BASH_COMP_DEBUG_FILE")`: "logs completions into that file",
	`github.com/spf13/cobra os.Getenv(activeHelpGlobalEnvVar)`: "COBRA_ACTIVE_HELP: hints in completions",
	`github.com/spf13/cobra os.Getenv(activeHelpEnvVar(...))`:  "WHEELMOLD_ACTIVE_HELP: the same",
	`github.com/spf13/cobra os.Getenv(configEnvVar(...))`:      "WHEELMOLD_COMPLETION_DESCRIPTIONS, or COBRA_: texts in completions",
	`golang.org/x/sys/unix syscall.Environ`:                    "hands the call on; nobody calls it",
	`golang.org/x/sys/windows syscall.Environ`:                 "the same",
	`golang.org/x/sys/unix syscall.Getenv(key)`:                "the same",
	`golang.org/x/sys/windows syscall.Getenv(key)`:             "the same",
}

// asking are the calls that read the environment, or find folders of the user by it.
var asking = []string{
	"os.Getenv", "os.LookupEnv", "os.Environ", "os.ExpandEnv", "syscall.Getenv", "syscall.Environ",
	"os.UserHomeDir", "os.UserConfigDir", "os.UserCacheDir",
	"unix.Getenv", "unix.Environ", "windows.Getenv", "windows.Environ",
}

// No linked package reads more of the environment than is known.
func TestWhatIsReadOfTheEnvironment(t *testing.T) {
	found := map[string]bool{}
	for _, system := range systems {
		for _, line := range goList(t, system, `{{if not .Standard}}{{.ImportPath}}|{{.Dir}}|{{join .GoFiles "|"}}{{end}}`) {
			f := strings.Split(line, "|")
			for _, name := range f[2:] {
				for _, call := range asked(t, filepath.Join(f[1], name)) {
					found[f[0]+" "+call] = true
				}
			}
		}
	}
	explained(t, found, environmentWhy, "read of the environment")
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"GOGC", "GOMEMLIMIT", "FSNOTIFY_DEBUG", "BASH_COMP_DEBUG_FILE", "COBRA_ACTIVE_HELP", "WHEELMOLD_ACTIVE_HELP", "WHEELMOLD_COMPLETION_DESCRIPTIONS", "COBRA_COMPLETION_DESCRIPTIONS"} {
		if !strings.Contains(string(readme), "`"+name+"`") {
			t.Errorf("README does not name %s", name)
		}
	}
}

// asked lists the places of a file that ask for the environment: as calls with their
// argument, or by name where the function itself is handed on.
func asked(t *testing.T, path string) (calls []string) {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
	if err != nil {
		t.Fatal(err)
	}
	argument := map[ast.Expr]string{}
	ast.Inspect(file, func(n ast.Node) bool {
		if call, ok := n.(*ast.CallExpr); ok && len(call.Args) == 1 {
			argument[call.Fun] = "(" + spelled(call.Args[0]) + ")"
		}
		if dot, ok := n.(*ast.SelectorExpr); ok {
			if name := spelled(dot.X) + "." + dot.Sel.Name; slices.Contains(asking, name) {
				calls = append(calls, name+argument[dot])
			}
		}
		return true
	})
	return calls
}

// spelled is an expression as the tables above write it.
func spelled(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return e.Name
	case *ast.BasicLit:
		return e.Value
	case *ast.CallExpr:
		return spelled(e.Fun) + "(...)"
	}
	return "..."
}
