package pgserver

import (
	"fmt"
	"io/fs"
	"os"
	"os/user"
	"path/filepath"
	"strconv"
	"syscall"
)

// nobodyID is the overflow user and group of Linux, for machines without a user list.
const nobodyID = 65534

// account is the user that the server runs as.
type account struct {
	uid, gid uint32
	name     string
	switched bool // it is not the user of this process
}

// chooseAccount gives the account for the server of a data folder. Not being root, it is our own.
// PostgreSQL refuses root, so root takes the owner of what exists already, or postgres, or nobody.
func chooseAccount(dir, cluster string) (account, error) {
	if os.Geteuid() != 0 {
		return account{uid: uint32(os.Geteuid()), gid: uint32(os.Getegid()), name: "this user"}, nil
	}
	for _, path := range []string{cluster, dir} {
		if a, ok := ownerOf(path); ok {
			return a, nil
		}
	}
	for _, name := range []string{"postgres", "nobody"} {
		u, err := user.Lookup(name)
		if err != nil {
			continue // no such user here: the next one
		}
		return accountOf(u)
	}
	return account{uid: nobodyID, gid: nobodyID, name: "nobody", switched: true}, nil
}

// ownerOf is the owner of an existing path when that is not root.
func ownerOf(path string) (account, bool) {
	info, err := os.Lstat(path)
	if err != nil {
		return account{}, false
	}
	st, ok := info.Sys().(*syscall.Stat_t)
	if !ok || st.Uid == 0 {
		return account{}, false
	}
	id := strconv.Itoa(int(st.Uid))
	if u, err := user.LookupId(id); err == nil {
		if a, err := accountOf(u); err == nil {
			return a, true
		}
	}
	return account{uid: st.Uid, gid: st.Gid, name: id, switched: true}, true
}

func accountOf(u *user.User) (account, error) {
	uid, err := strconv.ParseUint(u.Uid, 10, 32)
	if err != nil {
		return account{}, fmt.Errorf("user %s: %w", u.Username, err)
	}
	gid, err := strconv.ParseUint(u.Gid, 10, 32)
	if err != nil {
		return account{}, fmt.Errorf("user %s: %w", u.Username, err)
	}
	return account{uid: uint32(uid), gid: uint32(gid), name: u.Username, switched: true}, nil
}

// own gives a path to the account.
func (a account) own(path string) error {
	if !a.switched {
		return nil
	}
	if err := os.Lchown(path, int(a.uid), int(a.gid)); err != nil {
		return fmt.Errorf("%w: %w", ErrFolder, err)
	}
	return nil
}

// attributes are those of a child process of the account: in a process group of its own, so that
// Ctrl-C at the terminal does not stop the database before the service has drained, and, where the
// system can, sent the signal when our thread ends.
func (a account) attributes(whenWeDie syscall.Signal) *syscall.SysProcAttr {
	attr := &syscall.SysProcAttr{Setpgid: true}
	if a.switched {
		attr.Credential = &syscall.Credential{Uid: a.uid, Gid: a.gid}
	}
	signalWhenWeDie(attr, whenWeDie)
	return attr
}

// barrier names the folder on the way to path that the account may not enter, or path itself.
func (a account) barrier(path string) (string, fs.FileMode) {
	var chain []string
	for p := path; ; p = filepath.Dir(p) {
		chain = append([]string{p}, chain...)
		if p == filepath.Dir(p) {
			break
		}
	}
	for _, p := range chain {
		info, err := os.Stat(p)
		if err != nil {
			return p, 0
		}
		if st, ok := info.Sys().(*syscall.Stat_t); ok && !mayEnter(a, st, info.Mode()) {
			return p, info.Mode()
		}
	}
	return path, 0
}

func mayEnter(a account, st *syscall.Stat_t, mode fs.FileMode) bool {
	switch {
	case st.Uid == a.uid:
		return mode&0o100 != 0
	case st.Gid == a.gid:
		return mode&0o010 != 0
	}
	return mode&0o001 != 0
}
