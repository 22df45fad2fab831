package web

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/labstack/echo/v4"

	"seamwright/api/wire"
	"seamwright/service/fault"
)

// writing is what the headers of a write say.
type writing struct {
	actor   string
	match   []string // the tags of If-Match; nil: the header is not there
	newOnly bool     // If-None-Match: *
}

// actorOf names who writes: the key, and the person that its holder names. Wrong takes what is wrong with a header.
func actorOf(c echo.Context, wrong func(name, detail string)) string {
	person, key := strings.TrimSpace(asText(c.Request().Header.Get(actorHeader))), CallerOf(c).Name
	if c.Request().Header.Values(actorHeader) != nil && !wire.PlainText(person, longestActor) {
		wrong(actorHeader, "Must be 1 to 100 visible characters.")
	}
	switch {
	case person == "" && key == "":
		return "anonymous"
	case person == "":
		return "key " + key
	case key == "":
		return person
	}
	return fault.Cut(person, longestActor-len(key)-len(" (key )")) + " (key " + key + ")"
}

// asText reads the value of a header: as UTF-8 or, where it is none, as Latin-1, in which HTTP wrote headers once and many
// clients still do.
func asText(value string) string {
	if utf8.ValidString(value) {
		return value
	}
	letters := make([]rune, len(value))
	for i := range len(value) {
		letters[i] = rune(value[i])
	}
	return string(letters)
}

const (
	longestActor = 100
	longestKey   = 255
)

// writingOf reads the headers of a write. An Idempotency-Key comes back with the answer.
func writingOf(c echo.Context, wrong func(name, detail string)) (w writing) {
	header := c.Request().Header
	w.actor = actorOf(c, wrong)
	if key := header.Get(keyHeader); header.Values(keyHeader) != nil {
		if !wire.PlainText(key, longestKey) {
			wrong(keyHeader, "Must be 1 to 255 visible characters.")
		} else {
			c.Response().Header().Set(keyHeader, key)
		}
	}
	w.match = tags(header.Values("If-Match"))
	if none := tags(header.Values("If-None-Match")); none != nil {
		if w.newOnly = len(none) == 1 && none[0] == "*"; !w.newOnly {
			wrong("If-None-Match", "Can only be * here, to make a thing that does not exist.")
		}
	}
	return w
}

// tags lists the tags of headers, nil without any header.
func tags(headers []string) (list []string) {
	for _, header := range headers {
		for one := range strings.SplitSeq(header, ",") {
			list = append(list, strings.TrimSpace(one))
		}
	}
	return list
}

// allows checks the preconditions of a write against the row that the database has (RFC 9110, section 13): exists says whether
// there is one in use. Of a tag only the version counts, which stands before the dash: the rest tells answers apart
// that differ by units and by prices, which are not written here.
func (w *writing) allows(exists bool, version int64) error {
	switch {
	case w.newOnly && exists:
		return Refuse(preconditionFailed, "It exists already, and If-None-Match asks that it does not.")
	case w.match == nil && exists:
		return Refuse(preconditionRequired,
			"It exists already. Send If-Match with the ETag that GET gave you, so that no other change is lost.")
	case w.match == nil:
		return nil
	case !exists:
		return Refuse(preconditionFailed, "It does not exist, and If-Match asks that it does.")
	}
	for _, one := range w.match {
		if one == "*" || strings.HasPrefix(one, `"`+strconv.FormatInt(version, 10)+"-") {
			return nil
		}
	}
	return Refuse(preconditionFailed,
		"It was changed since you read it. GET it again, look at the change, and send yours with the new ETag.")
}
