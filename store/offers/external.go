package offers

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"

	"seamwright/service/fault"
	"seamwright/store/db"
)

// externalIndex is the index that lets no two offers have one external id.
const externalIndex = "quote_external_id"

// otherHas is the Fault of the kind Conflict that says which other offer has an external id; nil: none has.
func otherHas(ctx context.Context, tx db.Session, external, id string) error {
	var other string
	var number int64
	err := tx.QueryRow(ctx, `SELECT id, number FROM quote WHERE external_id = $1 AND external_id <> '' AND id <> $2`,
		external, id).Scan(&other, &number)
	if errors.Is(err, pgx.ErrNoRows) {
		return nil
	}
	if err != nil {
		return db.Fault(ctx, err)
	}
	return &fault.Fault{Kind: fault.Conflict, Pointer: "/external_id",
		Detail: fmt.Sprintf("The quote %s (number %d) has this external id already.", other, number),
		Fix:    "Read that one, or give this one another."}
}

// external makes a Fault of an error which says that another offer took an external id at the same moment.
func external(err error) error {
	if db.Constraint(err) != externalIndex {
		return err
	}
	return &fault.Fault{Kind: fault.Conflict, Pointer: "/external_id",
		Detail: "Another quote has taken this external id at this moment.", Fix: "Find it by GET /v1/quotes?external_id=."}
}

// metadataText is metadata for the database.
func metadataText(m map[string]string) (string, error) {
	if len(m) == 0 {
		return "{}", nil
	}
	raw, err := json.Marshal(m)
	return string(raw), err
}
