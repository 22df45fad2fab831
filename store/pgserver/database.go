package pgserver

import (
	"context"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
)

const (
	noSuchDatabase = "3D000" // invalid_catalog_name
	noSuchRole     = "28000" // invalid_authorization_specification
)

// ensureDatabase makes the database seamwright and the role that owns it when they are missing.
func (s *Server) ensureDatabase(ctx context.Context) error {
	conn, err := pgx.Connect(ctx, s.URL())
	if err == nil {
		return conn.Close(ctx)
	}
	var refused *pgconn.PgError
	if !errors.As(err, &refused) || (refused.Code != noSuchDatabase && refused.Code != noSuchRole) {
		return fmt.Errorf("reach the database: %w", err)
	}
	if err := s.createDatabase(ctx); err != nil {
		return fmt.Errorf("make the database: %w", err)
	}
	return nil
}

const (
	selectRole     = `SELECT EXISTS (SELECT FROM pg_roles WHERE rolname = $1)`
	createRole     = `CREATE ROLE seamwright LOGIN`
	createDatabase = `CREATE DATABASE seamwright OWNER seamwright`
)

func (s *Server) createDatabase(ctx context.Context) (err error) {
	conn, err := pgx.Connect(ctx, s.AdminURL())
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, conn.Close(ctx)) }()
	var exists bool
	if err := conn.QueryRow(ctx, selectRole, appName).Scan(&exists); err != nil {
		return err
	}
	if !exists {
		if _, err := conn.Exec(ctx, createRole); err != nil {
			return err
		}
	}
	_, err = conn.Exec(ctx, createDatabase)
	return err
}
