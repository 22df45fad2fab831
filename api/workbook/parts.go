package workbook

import (
	"archive/zip"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"

	"seamwright/service/fault"
)

const (
	// mostDirectory is how many bytes are read to find the archive's list of parts, and the list.
	mostDirectory = 1 << 20
	// mostPart is how many bytes a part may have when it is unpacked, and all parts that are read together.
	mostPart = 256 << 20
	// fairShare is how many times larger than packed a part may be. Sheets shrink to a tenth or a thirtieth.
	fairShare = 100
	// fairUntil is how many bytes are unpacked before that counts.
	fairUntil = 1 << 20
)

// parts are the parts of a workbook by their names in lower case: names that differ in nothing else are the same part (ISO/IEC
// 29500-2, section 6.2.2.3).
type parts struct {
	byName map[string]*zip.File
	left   int64 // bytes that may still be unpacked
	// elements read so far
	elements int
}

// unpack reads the archive's list of parts.
func unpack(content *pieces) (*parts, error) {
	from := &bounded{content: content, left: mostDirectory}
	archive, err := zip.NewReader(from, content.size)
	from.opened = true
	if err != nil {
		var known *fault.Fault
		if errors.As(err, &known) {
			return nil, known
		}
		return nil, invalid("This is no workbook: it cannot be unpacked, or its end is missing.")
	}
	p := &parts{byName: make(map[string]*zip.File, len(archive.File)), left: mostPart}
	for _, file := range archive.File {
		name := strings.ToLower(strings.TrimPrefix(file.Name, "/"))
		if p.byName[name] != nil {
			return nil, invalid("The workbook has the part %s twice.", shown(name))
		}
		p.byName[name] = file
	}
	return p, nil
}

// bounded keeps the list of parts from taking more memory than a workbook is worth: the archive is read to its list's end when it is
// opened. Parts have bounds of their own.
type bounded struct {
	content *pieces
	left    int
	opened  bool
}

func (b *bounded) ReadAt(p []byte, off int64) (int, error) {
	n, err := b.content.ReadAt(p, off)
	if b.opened {
		return n, err
	}
	if b.left -= n; b.left < 0 {
		return 0, invalid("The workbook has too many parts.")
	}
	return n, err
}

// open opens a part.
func (p *parts) open(name string) (*tokens, error) {
	file := p.byName[strings.ToLower(name)]
	if file == nil {
		return nil, invalid("The workbook lacks its part %s.", shown(name))
	}
	if file.Flags&1 != 0 {
		return nil, invalid("The workbook's part %s is encrypted: save it without a password.", shown(name))
	}
	r, err := file.Open()
	if err != nil {
		return nil, damaged(name, err)
	}
	return newTokens(&part{name: name, from: r, packed: int64(file.CompressedSize64), parts: p}), nil
}

func damaged(name string, err error) error {
	return invalid("The workbook's part %s is damaged: %s.", shown(name), shown(err.Error()))
}

// part is a part that is being unpacked.
type part struct {
	name   string
	from   io.ReadCloser
	packed int64
	read   int64
	parts  *parts
}

func (p *part) Read(b []byte) (int, error) {
	n, err := p.from.Read(b)
	p.read += int64(n)
	p.parts.left -= int64(n)
	switch {
	case p.parts.left < 0:
		return 0, invalid("The workbook has more than %d bytes when it is unpacked; send so long a list as CSV.", mostPart)
	case p.read > fairUntil && p.read > fairShare*p.packed:
		return 0, invalid("The workbook's part %s expands to more than %d times of what was sent, as no honest one does.", shown(p.name), fairShare)
	case err != nil && !errors.Is(err, io.EOF):
		return n, damaged(p.name, err)
	}
	return n, err
}

// whole reads a part to its end and hands its elements out, with what they stand in.
func (p *parts) whole(name string, each func(t *tokens) error) error {
	t, err := p.open(name)
	if err != nil {
		return err
	}
	defer t.close()
	for {
		switch err := t.next(); {
		case errors.Is(err, io.EOF):
			return nil
		case err != nil:
			return err
		}
		if err := each(t); err != nil {
			return err
		}
	}
}

// relations are the relationships of a part: the parts that it names, by the ids that it gives them.
type relations map[string]relation

type relation struct {
	kind string // the last word of its type, such as worksheet: it is the same in both kinds of namespaces
	part string
}

// relations reads those of a part; the empty name: of the archive.
func (p *parts) relations(of string) (relations, error) {
	folder, file := path.Split(of)
	name := folder + "_rels/" + file + ".rels"
	all := relations{}
	err := p.whole(name, func(t *tokens) error {
		if !t.starts("Relationship") || strings.EqualFold(t.attribute("TargetMode"), "external") {
			return nil
		}
		if len(all) == mostParts {
			return invalid("The workbook has more than %d parts.", mostParts)
		}
		target := t.attribute("Target")
		if strings.HasPrefix(target, "/") {
			target = path.Clean(target)[1:]
		} else {
			target = path.Join(folder, target)
		}
		kind := t.attribute("Type")
		all[strings.Clone(t.attribute("Id"))] = relation{strings.Clone(kind[strings.LastIndexByte(kind, '/')+1:]), target}
		return nil
	})
	return all, err
}

// one returns the part of the relation of that kind; empty: there is none.
func (r relations) one(kind string) (found string, err error) {
	for _, x := range r {
		switch {
		case x.kind != kind:
		case found != "" && found != x.part:
			return "", invalid("The workbook has two parts of the kind %s.", kind)
		default:
			found = x.part
		}
	}
	return found, nil
}

// mostParts is how many parts one may name, and how many sheets there may be.
const mostParts = 10_000

// shown is the start of a name as a screen can show it.
func shown(text string) string { return fmt.Sprintf("%.80q", text) }
