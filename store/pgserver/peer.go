package pgserver

import (
	"fmt"
	"os"
	"os/user"
	"path/filepath"
	"strconv"
)

// The socket lets in the user of this process alone, as any role: not whoever runs as the server's own user, which may be
// that of another PostgreSQL of the machine. The kernel says who calls.
const (
	peersAlone = "# Written at each start.\nlocal all all peer map=seamwright\n"
	peerIs     = "# Written at each start.\nseamwright %q %q\nseamwright %q %q\n"
)

// letIn writes down who may connect and adds the settings that say so. Where this user has no name, which the server
// would need, the cluster's own rules stay: everybody who reaches the socket.
func (s *Server) letIn(settings map[string]string) error {
	me, err := user.LookupId(strconv.Itoa(os.Geteuid()))
	if err != nil {
		return nil //nolint:nilerr // see above
	}
	for setting, text := range map[string]string{
		"hba_file":   peersAlone,
		"ident_file": fmt.Sprintf(peerIs, me.Username, appName, me.Username, superuser),
	} {
		path := filepath.Join(s.folder.path, setting+".conf")
		file, err := s.folder.openFile(path, os.O_WRONLY|os.O_TRUNC)
		if err != nil {
			return err
		}
		if _, err = file.WriteString(text); err == nil {
			err = file.Chmod(0o644) // the server's user reads it; there is no secret in it
		}
		file.Close()
		if err != nil {
			return fmt.Errorf("%w: %w", ErrFolder, err)
		}
		settings[setting] = path
	}
	return nil
}
