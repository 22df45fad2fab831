package show_test

import (
	"os"
	"runtime/debug"
	"testing"
)

// Papers are made and thrown away by the hundred: the collector comes less often than it does in a service.
func TestMain(m *testing.M) {
	debug.SetGCPercent(400)
	os.Exit(m.Run())
}
