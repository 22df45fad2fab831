// Supply looks at what the service is built from.
//
//	go run ./deploy/supply vulndb MODULE_DIR DIR   makes a database for govulncheck of a copy of golang.org/x/vulndb
//	go run ./deploy/supply licences                lists the licences of all modules in the service, and fails for strange ones
//	go run ./deploy/supply usual OUT [SPEC]        writes the spec, or the one in a file, as callers know it who ask for no particular
//	                                               form of answers
//
// The database of vulnerabilities is a Go module of a fixed version, so that a check finds today what it found yesterday, and
// needs no other host than that of the modules.
package main

import (
	"errors"
	"fmt"
	"os"

	"github.com/getkin/kin-openapi/openapi3"

	"seamwright/openapi"
)

// lastRelease is the spec of the last release.
const lastRelease = "openapi/released/openapi.yaml"

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "supply:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	switch {
	case len(args) == 3 && args[0] == "vulndb":
		return index(args[1], args[2])
	case len(args) == 1 && args[0] == "licences":
		return licences(os.Stdout)
	case len(args) == 2 && args[0] == "usual":
		now, err := openapi.Document()
		return usualOf(now, err, args[1])
	case len(args) == 3 && args[0] == "usual":
		now, err := openapi3.NewLoader().LoadFromFile(args[2])
		return usualOf(now, err, args[1])
	}
	return errors.New("say vulndb MODULE_DIR DIR, or licences, or usual OUT [SPEC]")
}

// usualOf writes a spec that was read, beside that of the last release.
func usualOf(now *openapi3.T, err error, out string) error {
	if err != nil {
		return err
	}
	before, err := openapi3.NewLoader().LoadFromFile(lastRelease)
	if err != nil {
		return err
	}
	return usual(now, before, out)
}
