package command

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"golang.org/x/term"

	"seamwright/api/estimates"
	"seamwright/api/show"
	"seamwright/api/summary"
	"seamwright/api/web"
	"seamwright/store/letterhead"
)

// estimateFile estimates the request in a file and prints a summary, or the whole answer.
func estimateFile(ctx context.Context, s *settings, name string, o *options, stdin io.Reader, stdout,
	stderr io.Writer) int {
	raw, err := read(name, stdin, s.BodyLimit)
	if err != nil {
		return say(stderr, exitUsage, err)
	}
	st, cat, end, err := catalogueOf(ctx, s, s.logger(stderr), stderr)
	defer end()
	if err != nil {
		return say(stderr, exitTrouble, err)
	}
	est, err := estimates.Make(raw, cat, time.Now(), o.explain)
	if err != nil {
		return refuse(stderr, err)
	}
	if o.out != "" {
		now := time.Now()
		day, err := web.ShopDay(now, cat)
		var logo *letterhead.Logo
		if err == nil && st != nil {
			logo, err = st.Letterhead.Logo(ctx)
		}
		if err == nil {
			if logo == nil {
				logo = &letterhead.Logo{}
			}
			err = writeViews(o.out, &show.Subject{Estimate: est, Logo: logo.Image, Shop: &cat.Settings.ShopSettings, Date: day,
				Reference: est.Reference}, show.Options{Language: o.language, Paper: o.paper})
		}
		if err != nil {
			return refuse(stderr, err)
		}
	}
	if !o.asJSON {
		err = summary.Write(stdout, est, summary.Screen{Columns: columnsOf(stdout), Colour: showsColour(stdout)})
	} else {
		_, err = stdout.Write(estimates.Encode(est))
	}
	if err != nil {
		return say(stderr, exitTrouble, err)
	}
	return exitDone
}

// showsColour says whether colour may be written: to a terminal that is not a dumb one, unless NO_COLOR says otherwise
// (no-color.org).
func showsColour(out io.Writer) bool {
	file, isFile := out.(*os.File)
	return isFile && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb" && term.IsTerminal(int(file.Fd()))
}

// columnsOf is how wide a terminal is; what COLUMNS says where there is none, 0 when nobody says.
func columnsOf(out io.Writer) int {
	if file, isFile := out.(*os.File); isFile {
		if wide, _, err := term.GetSize(int(file.Fd())); err == nil && wide > 0 {
			return wide
		}
	}
	wide, err := strconv.Atoi(os.Getenv("COLUMNS"))
	if err != nil || wide < 0 {
		return 0
	}
	return wide
}

// writeViews writes every drawing, document and table of an estimate into a folder, which is made when it is not there.
func writeViews(folder string, s *show.Subject, o show.Options) error {
	files, err := show.All(s, o)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	for _, f := range files {
		if err := os.WriteFile(filepath.Join(folder, f.Name), f.Raw, 0o644); err != nil {
			return err
		}
	}
	return nil
}

func read(name string, stdin io.Reader, limit int64) ([]byte, error) {
	in := stdin
	if name != "-" {
		file, err := os.Open(name)
		if err != nil {
			return nil, err
		}
		defer file.Close()
		in = file
	}
	raw, err := io.ReadAll(io.LimitReader(in, limit+1))
	if err == nil && int64(len(raw)) > limit {
		err = fmt.Errorf("%s has more than %d bytes", name, limit)
	}
	return raw, err
}

// refuse prints why a request was refused. What is nobody's fault but ours is trouble.
func refuse(stderr io.Writer, err error) int {
	p := web.ProblemOf(err)
	if p.Status >= http.StatusInternalServerError {
		return say(stderr, exitTrouble, err)
	}
	wrong := make([]summary.Wrong, len(p.Errors))
	for i, v := range p.Errors {
		wrong[i] = summary.Wrong{Where: v.Pointer, Detail: v.Detail}
		if v.Parameter != "" {
			wrong[i].Where = v.Parameter
		}
	}
	if err := summary.WriteRefusal(stderr, p.Title, p.Detail, wrong, columnsOf(stderr)); err != nil {
		return exitTrouble
	}
	return exitRefused
}
