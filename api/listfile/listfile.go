// Package listfile opens a supplier's price list from a file or from standard input, for the nightly job: it expands gzip, names the
// format, and tells how far reading has come.
package listfile

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"seamwright/service/pricelist"
)

// mostBytes bounds an expanded list, like the limit of an upload over HTTP.
const mostBytes = 512 << 20

// mediaTypes are the formats by their short names, which are the file names' endings too.
var mediaTypes = map[string]string{"csv": "text/csv", "ndjson": "application/x-ndjson", "jsonl": "application/x-ndjson",
	"json": "application/json", "xlsx": pricelist.WorkbookType}

// File is an open list.
type File struct {
	Body      io.Reader // expanded
	MediaType string
	Size      int64     // of the file as it lies there, compressed or not; 0: unknown
	Changed   time.Time // when the file was last written; zero: nobody knows

	closing []io.Closer
}

// Open opens a list. The name "-" is standard input; one without an ending, of which there is no file, is that of the one file
// with an ending of a list (so the nightly unit finds SUPPLIER.csv and SUPPLIER.csv.gz alike). The format is csv, ndjson, json or xlsx; empty: by the file's name, and CSV for standard
// input. progress is told how many bytes of the file have been read; nil: nobody is.
func Open(name, format string, stdin io.Reader, progress func(read int64)) (*File, error) {
	f := &File{}
	raw := stdin
	if name != "-" {
		var err error
		if name, err = whole(name); err != nil {
			return nil, err
		}
		file, err := os.Open(name)
		if err != nil {
			return nil, err
		}
		f.closing = append(f.closing, file)
		info, err := file.Stat()
		if err != nil {
			return nil, errors.Join(err, f.Close())
		}
		if info.IsDir() {
			return nil, errors.Join(fmt.Errorf("%s is a folder, not a list", name), f.Close())
		}
		raw, f.Size, f.Changed = file, info.Size(), info.ModTime()
	}
	var err error
	if f.MediaType, err = mediaType(name, format); err != nil {
		return nil, errors.Join(err, f.Close())
	}
	if f.Body, err = f.expand(&counted{from: raw, tell: progress}); err != nil {
		return nil, errors.Join(fmt.Errorf("%s: %w", name, err), f.Close())
	}
	f.Body = &bounded{from: f.Body, left: mostBytes}
	return f, nil
}

// whole is a file's name with its ending.
func whole(name string) (string, error) {
	if _, err := os.Stat(name); err == nil || !errors.Is(err, os.ErrNotExist) || filepath.Ext(name) != "" {
		return name, nil // opening it says what is wrong
	}
	var found []string
	for _, ending := range endings {
		if _, err := os.Stat(name + ending); err == nil {
			found = append(found, name+ending)
		}
	}
	switch len(found) {
	case 0:
		return name, nil
	case 1:
		return found[0], nil
	}
	return "", fmt.Errorf("there are %s: which of them is the list? Name it, or take the others away", strings.Join(found, " and "))
}

// endings are those of lists, as names are tried.
var endings = []string{".csv", ".csv.gz", ".ndjson", ".ndjson.gz", ".json", ".json.gz", ".xlsx"}

// Close closes what was opened.
func (f *File) Close() error {
	var all []error
	for i := len(f.closing) - 1; i >= 0; i-- {
		all = append(all, f.closing[i].Close())
	}
	f.closing = nil
	return errors.Join(all...)
}

// mediaType is the format asked for, or the one that the name ends in.
func mediaType(name, format string) (string, error) {
	if format == "" {
		format = strings.TrimPrefix(filepath.Ext(strings.TrimSuffix(strings.ToLower(name), ".gz")), ".")
		if name == "-" {
			format = "csv"
		}
	}
	if t := mediaTypes[format]; t != "" {
		return t, nil
	}
	return "", fmt.Errorf("the format of %s is not known by its name; say --format csv, xlsx, ndjson or json", name)
}

// expand looks at the first bytes: a list compressed with gzip is expanded.
func (f *File) expand(raw io.Reader) (io.Reader, error) {
	b := bufio.NewReaderSize(raw, 1<<16)
	first, err := b.Peek(2)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	if !bytes.Equal(first, []byte{0x1f, 0x8b}) {
		return b, nil
	}
	z, err := gzip.NewReader(b)
	if err != nil {
		return nil, fmt.Errorf("begins like gzip and is none: %w", err)
	}
	f.closing = append(f.closing, z)
	return z, nil
}

// counted tells how far reading has come.
type counted struct {
	from io.Reader
	tell func(int64)
	read int64
}

func (c *counted) Read(p []byte) (int, error) {
	n, err := c.from.Read(p)
	c.read += int64(n)
	if c.tell != nil {
		c.tell(c.read)
	}
	return n, err
}

// bounded ends with an error behind so many bytes: a small file may expand to a huge list.
type bounded struct {
	from io.Reader
	left int64
}

func (b *bounded) Read(p []byte) (int, error) {
	n, err := b.from.Read(p[:min(int64(len(p)), b.left+1)])
	if b.left -= int64(n); b.left < 0 {
		return 0, fmt.Errorf("the list has more than %d bytes when it is expanded", mostBytes)
	}
	return n, err
}
