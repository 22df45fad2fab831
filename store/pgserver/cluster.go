package pgserver

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"syscall"
)

// ensureCluster makes the cluster when there is none, and tells whether it did. It is made beside and
// renamed when whole, so that a start which is killed leaves nothing half-made that looks finished.
func (s *Server) ensureCluster(ctx context.Context, lock *os.File) (bool, error) {
	version, err := s.folder.clusterVersion()
	if err != nil || version != "" {
		return false, err
	}
	for _, locale := range locales {
		var out []byte
		if out, err = s.initdb(ctx, locale, lock); err == nil {
			return true, os.Rename(s.folder.unfinished(), s.folder.cluster())
		}
		if ctx.Err() != nil {
			return false, fmt.Errorf("initdb was cut off: %w", ctx.Err())
		}
		err = fmt.Errorf("initdb: %w\n%s", err, bytes.TrimSpace(out))
		if !bytes.Contains(out, []byte("locale")) {
			break
		}
	}
	return false, err
}

// initdb makes a cluster in data.new. It does not wait for the disk: see launch.
func (s *Server) initdb(ctx context.Context, locale string, lock *os.File) ([]byte, error) {
	dir := s.folder.unfinished()
	if err := s.folder.makePrivate(dir); err != nil {
		return nil, err
	}
	cmd := exec.CommandContext(ctx, s.binaries.initdb(), "-D", dir, "-U", superuser, "-E", "UTF8", "--locale="+locale,
		"--auth-local=trust", "--auth-host=reject", "--no-sync")
	cmd.Dir = s.folder.path
	cmd.Env = environment()
	cmd.ExtraFiles = []*os.File{lock}
	cmd.SysProcAttr = s.folder.account.attributes(syscall.SIGKILL)
	cmd.WaitDelay = quitPatience // its own children hold the pipe a little longer
	return cmd.CombinedOutput()
}
