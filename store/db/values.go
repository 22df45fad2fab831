package db

import (
	"strings"
	"time"
)

// OrNull is a time, or null for the zero one.
func OrNull(t time.Time) *time.Time {
	if t.IsZero() {
		return nil
	}
	return &t
}

// List is an empty list in place of none, which a column without nulls takes.
func List[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

// Text takes out of a text what PostgreSQL's cannot hold.
func Text(text string) string {
	return strings.ReplaceAll(strings.ToValidUTF8(text, "\ufffd"), "\x00", "\ufffd")
}
