package listfile

import (
	"fmt"
	"io"
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// Progress shows how far a list has been read: a bar on a terminal, otherwise a plain line for each tenth of a large list.
type Progress struct {
	out   io.Writer
	bar   *progressbar.ProgressBar // nil: not on a terminal
	size  int64
	tenth int64
}

// NewProgress shows progress on out once it is started.
func NewProgress(out io.Writer) *Progress { return &Progress{out: out} }

// largeList is the size from which plain lines are worth while.
const largeList = 1 << 20

// Start begins with the size of the list's file in bytes; 0: unknown, and nothing is shown.
func (p *Progress) Start(size int64) {
	p.size = size
	if file, ok := p.out.(*os.File); ok && size > 0 && term.IsTerminal(int(file.Fd())) {
		p.bar = progressbar.NewOptions64(size, progressbar.OptionSetWriter(p.out),
			progressbar.OptionSetDescription("reading"),
			progressbar.OptionShowBytes(true), progressbar.OptionThrottle(100*time.Millisecond),
			progressbar.OptionClearOnFinish())
	}
}

// Read is told how many bytes of the file have been read.
func (p *Progress) Read(bytes int64) {
	switch {
	case p.bar != nil:
		_ = p.bar.Set64(min(bytes, p.size)) // a bar that cannot be drawn is no reason to stop
	case p.size >= largeList && bytes*10/p.size > p.tenth:
		p.tenth = bytes * 10 / p.size
		fmt.Fprintf(p.out, "read %d %% of %d bytes\n", p.tenth*10, p.size)
	}
}

// Stop takes the bar away.
func (p *Progress) Stop() {
	if p.bar != nil {
		_ = p.bar.Finish() // as above
	}
}
