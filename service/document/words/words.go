// Package words is the list of languages that papers speak: each is a file of messages here. It imports nothing of ours, so
// that the settings can name the languages, too.
package words

import (
	"embed"
	"encoding/json"
	"path"
	"strings"
)

//go:embed *.json
var files embed.FS

var tags, messages = load()

func load() (tags []string, messages map[string][]byte) {
	entries, err := files.ReadDir(".")
	if err != nil {
		panic(err) // embedded
	}
	messages = map[string][]byte{}
	for _, entry := range entries {
		tag := strings.TrimSuffix(path.Base(entry.Name()), ".json")
		raw, err := files.ReadFile(entry.Name())
		if err != nil {
			panic(err) // embedded
		}
		tags, messages[tag] = append(tags, tag), raw
	}
	return tags, messages
}

// Languages lists the languages (BCP 47), sorted.
func Languages() []string { return append([]string(nil), tags...) }

// Messages are the messages of a language as JSON; nil for one that is not there.
func Messages(tag string) []byte { return messages[tag] }

// Text is one message of a language that has no values and no number; empty when there is none.
func Text(tag, id string) string {
	var all map[string]any
	if json.Unmarshal(messages[tag], &all) != nil {
		return ""
	}
	text, _ := all[id].(string)
	return text
}
