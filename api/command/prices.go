package command

import (
	"context"
	"errors"
	"io"

	"seamwright/api/listfile"
	listsroom "seamwright/api/lists"
	"seamwright/api/summary"
	"seamwright/api/web"
	"seamwright/store/lists"
)

// ofTheFile is the list date that is the day on which the file was last written, in the shop's time zone: a list that
// nobody has renewed is then the same list again, and confirms nothing.
const ofTheFile = "file"

// loadPrices loads a supplier's price list and prints its report. A list that is held, or would be, is refused input: somebody
// must look at it.
func loadPrices(ctx context.Context, s *settings, name string, o *options, stdin io.Reader, stdout,
	stderr io.Writer) int {
	if o.list.Supplier == "" {
		return say(stderr, exitUsage, errors.New("prices needs --supplier CODE"))
	}
	progress := listfile.NewProgress(stderr)
	file, err := listfile.Open(name, o.format, stdin, progress.Read)
	if err != nil {
		return say(stderr, exitUsage, err)
	}
	defer func() { _ = file.Close() }() // it was only read
	progress.Start(file.Size)
	st, end, err := open(ctx, s, s.logger(stderr))
	defer end()
	if err != nil {
		return say(stderr, exitTrouble, err)
	}
	cat, err := st.Shelf.Load(ctx)
	if err != nil {
		return say(stderr, exitTrouble, err)
	}
	o.list.Body, o.list.MediaType = file.Body, file.MediaType
	if o.charset != "" {
		o.list.MediaType += "; charset=" + o.charset
	}
	if o.list.ListDate == ofTheFile {
		if file.Changed.IsZero() {
			return say(stderr, exitUsage, errors.New("--list-date file needs a file, and this is standard input"))
		}
		day, err := web.ShopDay(file.Changed, cat)
		if err != nil {
			return say(stderr, exitTrouble, err)
		}
		o.list.ListDate = string(day)
	}
	update, err := listsroom.TakeIn(ctx, st, cat, st.Now, o.list)
	progress.Stop()
	if err != nil {
		return refuse(stderr, err)
	}
	if o.asJSON {
		_, err = stdout.Write(append(listsroom.Encode(update), '\n'))
	} else {
		err = summary.WritePrices(stdout, update)
	}
	switch {
	case err != nil:
		return say(stderr, exitTrouble, err)
	case update.Status == lists.Held || update.WouldBe == lists.Held:
		return exitRefused
	}
	return exitDone
}
