package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"example.com/scantling/plugins/region/host"
	"example.com/scantling/plugins/region/kit"
)

func (a *app) regionCommand() *cobra.Command {
	cmd := &cobra.Command{Use: "region", Short: "List regions, pin one, or hold one against the contract"}
	cmd.AddCommand(
		&cobra.Command{
			Use: "list", Short: "List the regions and the codes that they serve", Args: cobra.NoArgs,
			RunE: func(*cobra.Command, []string) error { return a.regionList() },
		},
		&cobra.Command{
			Use: "pin FILE", Short: "Print the entry that pins an executable in the user's settings", Args: cobra.ExactArgs(1),
			RunE: func(_ *cobra.Command, args []string) error { return a.regionPin(args[0]) },
		},
		&cobra.Command{
			Use: "check FILE", Short: "Run the conformance kit against an executable", Args: cobra.ExactArgs(1),
			RunE: func(cmd *cobra.Command, args []string) error {
				sum, err := digestOf(args[0])
				if err != nil {
					return err
				}
				found := kit.Run(cmd.Context(), host.Options{File: args[0], SHA256: sum})
				if !found.Conforms() {
					a.status = statusFindings
				}
				return a.print(func(w *bytes.Buffer) error {
					_, err := fmt.Fprintln(w, strings.Join(found.Lines(), "\n"))
					return err
				})
			},
		},
	)
	return cmd
}

func (a *app) regionList() error {
	return a.print(func(w *bytes.Buffer) error {
		for _, s := range shipped {
			fmt.Fprintf(w, "%-10s built in  %s\n", s.name, shortCodes(s.codes))
		}
		for _, e := range a.settings.Regions {
			fmt.Fprintf(w, "%-10s pinned    %s\n", e.File, shortCodes(e.Codes))
		}
		return nil
	})
}

// shortCodes lists codes, the many of one country by their number.
func shortCodes(codes []string) string {
	if len(codes) <= 12 {
		return joined(codes)
	}
	return fmt.Sprintf("%s and %d parts of it", codes[0], len(codes)-1)
}

// regionPin prints what to put into the user's settings, so that nobody types a digest.
func (a *app) regionPin(file string) error {
	sum, err := digestOf(file)
	if err != nil {
		return err
	}
	if file, err = filepath.Abs(file); err != nil { // the settings stand in another folder
		return unusable{err}
	}
	_, err = fmt.Fprintf(a.out, "# put this under regions in %s\n- file: %q\n  sha256: %s\n  codes: [] # the codes that it is to serve\n", userFile(), file, sum)
	return err
}

func digestOf(file string) (string, error) {
	f, err := os.Open(file)
	if err != nil {
		return "", unusable{err}
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", unusable{err}
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}
