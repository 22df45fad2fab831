package web

import (
	"strconv"
	"strings"

	"seamwright/api/wire"
)

// writing is what the headers of a write say.
type writing struct {
	actor   string
	match   []string // the tags of If-Match; nil: the header is not there
	newOnly bool     // If-None-Match: *
}

const actorHeader = "X-Actor"

// Actor names who writes: the key, and the person that its holder names.
func (c *Call) Actor() string { return c.write.actor }

func (c *Call) actor() string {
	person, key := strings.TrimSpace(c.Request().Header.Get(actorHeader)), CallerOf(c).Name
	if c.Request().Header.Values(actorHeader) != nil && !wire.PlainText(person, longestActor) {
		c.Wrong(actorHeader, "Must be 1 to 100 visible characters.")
	}
	switch {
	case person == "" && key == "":
		return "anonymous"
	case person == "":
		return "key " + key
	case key == "":
		return person
	}
	return wire.Cut(person, longestActor-len(key)-len(" (key )")) + " (key " + key + ")"
}

const (
	longestActor = 100
	longestKey   = 255
)

// writing reads the headers of a write. An Idempotency-Key comes back with the answer.
func (c *Call) writing() {
	header := c.Request().Header
	c.write.actor = c.actor()
	if key := header.Get(keyHeader); header.Values(keyHeader) != nil {
		if !wire.PlainText(key, longestKey) {
			c.Wrong(keyHeader, "Must be 1 to 255 visible characters.")
		} else {
			c.Response().Header().Set(keyHeader, key)
		}
	}
	c.write.match = tags(header.Values("If-Match"))
	if none := tags(header.Values("If-None-Match")); none != nil {
		if c.write.newOnly = len(none) == 1 && none[0] == "*"; !c.write.newOnly {
			c.Wrong("If-None-Match", "Can only be * here, to make a thing that does not exist.")
		}
	}
}

// Conditional says whether a write names a state.
func (c *Call) Conditional() bool { return c.write.match != nil || c.write.newOnly }

// tags lists the tags of headers, nil without any header.
func tags(headers []string) (list []string) {
	for _, header := range headers {
		for one := range strings.SplitSeq(header, ",") {
			list = append(list, strings.TrimSpace(one))
		}
	}
	return list
}

// Allows checks the preconditions of a write against the row that the database has (RFC 9110, section 13): exists says whether
// there is one in use. Of a tag only the version counts, which stands before the dash: the rest tells answers apart
// that differ by units and by prices, which are not written here.
func (c *Call) Allows(exists bool, version int64) error {
	w := &c.write
	switch {
	case w.newOnly && exists:
		return Refuse(preconditionFailed, "It exists already, and If-None-Match asks that it does not.")
	case w.match == nil && exists:
		return Refuse(preconditionRequired, "It exists already. Send If-Match with the ETag that GET gave you, so that no other change is lost.")
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
	return Refuse(preconditionFailed, "It was changed since you read it. GET it again, look at the change, and send yours with the new ETag.")
}

// versioned puts the version of a row into the tag of an answer that shows it.
func versioned(t tagged, version int64) tagged {
	return tagged{t.body, `"` + strconv.FormatInt(version, 10) + "-" + t.etag[1:]}
}
