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
)

// mostBytes bounds an expanded list, like the limit of an upload over HTTP.
const mostBytes = 512 << 20

// mediaTypes are the formats by their short names, which are the file names' endings too.
var mediaTypes = map[string]string{"csv": "text/csv", "ndjson": "application/x-ndjson", "jsonl": "application/x-ndjson", "json": "application/json"}

// File is an open list.
type File struct {
	Body      io.Reader // expanded
	MediaType string
	Size      int64 // of the file as it lies there, compressed or not; 0: unknown

	closing []io.Closer
}

// Open opens a list. The name "-" is standard input. The format is csv, ndjson or json; empty: by the file's name, and CSV for standard
// input. progress is told how many bytes of the file have been read; nil: nobody is.
func Open(name, format string, stdin io.Reader, progress func(read int64)) (*File, error) {
	f := &File{}
	raw := stdin
	if name != "-" {
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
		raw, f.Size = file, info.Size()
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
	return "", fmt.Errorf("the format of %s is not known by its name; say --format csv, ndjson or json", name)
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
