package main

import (
	"io"
	"os"
	"sync"
	"time"

	"github.com/mattn/go-isatty"
	"github.com/schollz/progressbar/v3"

	"wheelmold/mold"
)

// patience is how long a build runs before it shows progress: most are over by
// then, and a bar that only flickers tells nothing.
const patience = 500 * time.Millisecond

// progress shows on a terminal how far a build is, and what it did last.
type progress struct {
	w     io.Writer
	timer *time.Timer

	mu   sync.Mutex
	last mold.Stage
	due  bool // long enough has passed
	over bool
	bar  *progressbar.ProgressBar
}

// newProgress returns nil, which shows nothing, where w is no terminal.
func newProgress(w io.Writer) *progress {
	f, ok := w.(*os.File)
	if !ok || !isatty.IsTerminal(f.Fd()) {
		return nil
	}
	p := &progress{w: w}
	p.timer = time.AfterFunc(patience, p.begin)
	return p
}

// stage reports a finished step.
func (p *progress) stage(s mold.Stage) {
	if p == nil {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.last = s
	p.draw()
}

// perShare is how finely the part of one of several builds is counted.
const perShare = 100

// several is one bar for builds that run at once.
type several struct {
	bar  *progress
	n    int
	mu   sync.Mutex
	done map[string]int // of perShare, by name
}

// several lets the bar show n builds as one.
func (p *progress) several(n int) *several { return &several{bar: p, n: n, done: map[string]int{}} }

// share shows the stages of one of them as part of them all. What follows its last
// stage, estimates and files, is left half of its share.
func (s *several) share(name string) func(mold.Stage) {
	return func(x mold.Stage) { s.set(name, name+": "+x.Name, x.Done*perShare/(2*x.Total)) }
}

// end shows that one of them is over.
func (s *several) end(name string) { s.set(name, name, perShare) }

func (s *several) set(name, text string, done int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.done[name] = done
	sum := 0
	for _, d := range s.done {
		sum += d
	}
	s.bar.stage(mold.Stage{Name: text, Done: sum, Total: s.n * perShare})
}

// aside takes the bar away while f writes messages.
func (p *progress) aside(f func()) {
	if p == nil {
		f()
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.bar != nil {
		p.bar.Clear()
	}
	f()
	p.draw()
}

// begin makes the bar visible.
func (p *progress) begin() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.due = true
	p.draw()
}

func (p *progress) draw() {
	if !p.due || p.over || p.last.Total == 0 {
		return
	}
	if p.bar == nil {
		p.bar = progressbar.NewOptions(p.last.Total,
			progressbar.OptionSetWriter(p.w),
			progressbar.OptionSetPredictTime(false),
			progressbar.OptionSetElapsedTime(false),
			progressbar.OptionSetWidth(24),
		)
	}
	p.bar.Set(p.last.Done)
	p.bar.Describe(p.last.Name)
}

// clear takes the bar away for good, so that messages begin on an empty line.
func (p *progress) clear() {
	if p == nil {
		return
	}
	p.timer.Stop()
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.bar != nil {
		p.bar.Clear()
	}
	p.over = true
}
