package api_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"seamwright/api/access"
	"seamwright/store/keys"
)

// Who was answered that a key was made, rotated or revoked finds it so at this instance, at once.
func TestANewKeyIsGoodAtOnceAndARevokedOneIsNot(t *testing.T) {
	t.Parallel()
	g := newGuarded(t, nil)
	owner, _ := g.key(t, keys.Secret, access.Scopes()...)
	made := func(a answer) (id, key string) {
		require.Equal(t, http.StatusCreated, a.status, string(a.body))
		return a.tree(t)["id"].(string), a.tree(t)["key"].(string)
	}
	for range 20 {
		id, key := made(g.post(t, "/v1/keys", `{"name":"new","scopes":["catalogue:read"]}`, bearer(owner)...))
		require.Equal(t, http.StatusOK, g.get(t, "/v1/species?limit=1", bearer(key)...).status)
		_, next := made(g.post(t, "/v1/keys/"+id+"/rotate", `{"overlap_hours":1}`, bearer(owner)...))
		require.Equal(t, http.StatusOK, g.get(t, "/v1/species?limit=1", bearer(next)...).status)
		require.Equal(t, http.StatusNoContent, g.do(t, http.MethodDelete, "/v1/keys/"+id, strings.NewReader(""), bearer(owner)...).status)
		require.Equal(t, http.StatusUnauthorized, g.get(t, "/v1/species?limit=1", bearer(key)...).problem(t).Status)
	}
}
