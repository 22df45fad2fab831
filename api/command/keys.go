package command

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"text/tabwriter"
	"time"

	"golang.org/x/term"

	"seamwright/api/access"
	keysroom "seamwright/api/keys"
	"seamwright/api/web"
	"seamwright/store"
	"seamwright/store/keys"
	"seamwright/store/pgserver"
)

// keyOptions are what the commands for access keys are told.
type keyOptions struct {
	name        string
	scopes      []string
	origins     []string
	publishable bool
	test        bool
	days        int
	overlap     time.Duration
}

// manageKeys makes, lists, rotates and revokes access keys.
func manageKeys(ctx context.Context, s *settings, args []string, o *keyOptions, stdout, stderr io.Writer) int {
	do := map[string]func(context.Context, *store.Store, string, *keyOptions, io.Writer) error{"add": addKey,
		"list": listKeys, "rotate": rotateKey, "revoke": revokeKey}
	takesID := map[string]bool{"rotate": true, "revoke": true}
	if len(args) == 0 || do[args[0]] == nil || takesID[args[0]] != (len(args) == 2) || len(args) > 2 {
		return say(stderr, exitUsage, errors.New("keys add, keys list, keys rotate ID or keys revoke ID; see --help"))
	}
	id := ""
	if len(args) == 2 {
		id = args[1]
	}
	st, end, err := open(ctx, s, s.logger(stderr))
	defer end()
	if err != nil {
		return say(stderr, exitTrouble, err)
	}
	if err := do[args[0]](ctx, st, id, o, stdout); err != nil {
		if problem := web.ProblemOf(err); problem.Status < 500 {
			for _, violation := range problem.Errors {
				if violation.Detail != problem.Detail {
					problem.Detail += " " + strings.TrimPrefix(violation.Pointer, "/") + ": " + violation.Detail
				}
			}
			return say(stderr, exitRefused, errors.New(problem.Detail))
		}
		return say(stderr, exitTrouble, err)
	}
	return exitDone
}

func addKey(ctx context.Context, st *store.Store, _ string, o *keyOptions, stdout io.Writer) error {
	now := st.Now()
	kind := keys.Secret
	if o.publishable {
		kind = keys.Publishable
	}
	text, k := access.New(kind)
	k.Name, k.Scopes, k.Origins, k.CreatedAt, k.CreatedBy, k.Test = o.name, o.scopes, o.origins, now, "command line", o.test
	if o.days > 0 {
		end := now.AddDate(0, 0, o.days)
		k.ExpiresAt = &end
	}
	if err := keysroom.Check(&k, now); err != nil {
		return err
	}
	if err := st.Keys.Add(ctx, &k); err != nil {
		return err
	}
	showKey(stdout, text, &k)
	return nil
}

func showKey(stdout io.Writer, text string, k *keys.Key) {
	fmt.Fprintf(stdout, "%s\n\nThis is key %s (%s). Keep it: it cannot be shown again.\n", text, k.ID, k.Name)
}

// mostListed bounds one reading of the list.
const mostListed = 200

func listKeys(ctx context.Context, st *store.Store, _ string, _ *keyOptions, stdout io.Writer) error {
	t := tabwriter.NewWriter(stdout, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "id\tname\tkind\tfor\tmade\tlast used\tends")
	after := ""
	for {
		list, err := st.Keys.List(ctx, after, mostListed)
		if err != nil {
			return err
		}
		for i := range list {
			k := &list[i]
			kind := string(k.Kind)
			if k.Test {
				kind += ", test"
			}
			fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\t%s\n", k.ID, k.Name, kind,
				strings.Join(append(k.Scopes, k.Origins...), " "),
				k.CreatedAt.Format(time.DateOnly), day(k.LastUsedAt, "never"), ends(k))
			after = k.ID
		}
		if len(list) < mostListed {
			return t.Flush()
		}
	}
}

func day(at *time.Time, none string) string {
	if at == nil {
		return none
	}
	return at.Format(time.DateOnly)
}

func ends(k *keys.Key) string {
	if k.RevokedAt != nil {
		return "revoked " + day(k.RevokedAt, "")
	}
	return day(k.ExpiresAt, "never")
}

func rotateKey(ctx context.Context, st *store.Store, id string, o *keyOptions, stdout io.Writer) error {
	old, err := st.Keys.Key(ctx, id)
	if err != nil {
		return err
	}
	now := st.Now()
	text, k := access.Successor(&old, now, "command line")
	if err := st.Keys.Rotate(ctx, id, &k, now.Add(o.overlap)); err != nil {
		return err
	}
	showKey(stdout, text, &k)
	fmt.Fprintf(stdout, "Key %s is good until %s.\n", id, now.Add(o.overlap).Format(time.DateTime))
	return nil
}

func revokeKey(ctx context.Context, st *store.Store, id string, _ *keyOptions, stdout io.Writer) error {
	if _, err := st.Keys.Key(ctx, id); err != nil {
		return err
	}
	if err := st.Keys.Revoke(ctx, id, st.Now()); err != nil {
		return err
	}
	fmt.Fprintf(stdout, "Key %s is revoked; running services refuse it within a second.\n", id)
	return nil
}

// firstKeyFile is where the first key is kept when nobody sits at a terminal.
const firstKeyFile = "first-key"

// firstKey makes a key for everything when there has never been one, and shows it in a call that can be pasted: at a terminal
// the key itself, else the file that has it, which this user alone can read, as what a service prints is kept in journals for good.
func firstKey(ctx context.Context, st *store.Store, s *settings, address string, stdout io.Writer) error {
	if there, err := st.Keys.Any(ctx); err != nil || there {
		return err
	}
	text, k := access.New(keys.Secret)
	k.Name, k.Scopes, k.CreatedAt, k.CreatedBy = "first key", access.Scopes(), st.Now(), "first start"
	shown, where := text, "it is shown this once"
	keep := func() error { return nil }
	if !isTerminal(stdout) {
		path, file, err := firstKeyIn(s.DataDir, text)
		if err != nil {
			fmt.Fprintf(stdout, "There is no access key yet, and no folder to keep one in. Make one: keys add --name NAME --scopes SCOPES (%v)\n", err)
			return nil
		}
		defer func() { _ = os.Remove(file) }() // unless it has become the one
		keep = func() error { return os.Rename(file, path) }
		shown, where = "$(cat "+path+")", "it stands in a file that this user alone can read"
	}
	added, err := st.Keys.AddFirst(ctx, &k)
	if err != nil || !added {
		return err
	}
	if err := keep(); err != nil {
		return fmt.Errorf("keep the first key: %w", err)
	}
	fmt.Fprintf(stdout, `
This is the first start. Here is a key for everything; %s. Try it:

  export KEY=%s
  curl -s http://%s/v1/estimates -H "Authorization: Bearer $KEY" -H 'Content-Type: application/json' --data '{"units": "in", "top":
    {"species": "maple_sugar", "thickness": "1-1/2", "runs": [{"length": 96, "depth": 25.5}, {"length": 72, "depth": 25.5}], "corners": [{"angle": 90}]}}'

`, where, shown, address)
	return nil
}

func isTerminal(w io.Writer) bool {
	file, ok := w.(*os.File)
	return ok && term.IsTerminal(int(file.Fd()))
}

// firstKeyIn writes the key into a file of the data folder, or of this user's when there is none, to be renamed to path.
func firstKeyIn(folder, key string) (path, file string, err error) {
	if folder == "" {
		if folder, err = pgserver.DefaultDataDir(); err != nil {
			return "", "", err
		}
		if err := os.MkdirAll(folder, 0o700); err != nil {
			return "", "", err
		}
	}
	if path, err = filepath.Abs(filepath.Join(folder, firstKeyFile)); err != nil {
		return "", "", err
	}
	kept, err := os.CreateTemp(filepath.Dir(path), firstKeyFile+"-*") // for this user alone
	if err != nil {
		return "", "", err
	}
	_, err = kept.WriteString(key + "\n")
	return path, kept.Name(), errors.Join(err, kept.Close())
}
