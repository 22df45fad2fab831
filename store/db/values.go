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

// Texts is a list of words of a type of ours as a parameter of a statement; nil, null there, for none.
func Texts[T ~string](words []T) (texts []string) {
	for _, word := range words {
		texts = append(texts, string(word))
	}
	return texts
}

// Text takes out of a text what PostgreSQL's cannot hold.
func Text(text string) string {
	return strings.ReplaceAll(strings.ToValidUTF8(text, "\ufffd"), "\x00", "\ufffd")
}
