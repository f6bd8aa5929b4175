package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"

	"github.com/spf13/cobra"

	"example.com/scantling/engine"
	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report"
	"example.com/scantling/rules/pack"
)

// Exit statuses. Of several causes or models the gravest counts: unusable, then incomplete, then findings.
const (
	statusClean      = 0
	statusFindings   = 1
	statusUnusable   = 2
	statusIncomplete = 3
)

// gravest is the status that counts of two.
func gravest(a, b int) int {
	order := [...]int{statusClean: 0, statusFindings: 1, statusUnusable: 3, statusIncomplete: 2}
	if order[b] > order[a] {
		return b
	}
	return a
}

// app is one call of the command: its streams, its settings and the status that it will end with.
type app struct {
	in       io.Reader
	out, err io.Writer
	flags    settings       // as given on the command line
	settings settings       // with environment and files merged in
	regions  engine.Regions // where regions are found; nil: where the settings say
	status   int
}

// unusable is an error of the call or its input: status 2.
type unusable struct{ error }

func (u unusable) Unwrap() error { return u.error }

// usable makes an error one of the input.
func unusablef(format string, args ...any) error { return unusable{fmt.Errorf(format, args...)} }

// run is the whole command, with its exit status.
func run(args []string, in io.Reader, out, errs io.Writer) int {
	return (&app{in: in, out: out, err: errs}).run(args)
}

func (a *app) run(args []string) int {
	ctx, stop := interruptible()
	defer stop()
	root := a.root()
	root.SetArgs(args)
	root.SetIn(a.in)
	root.SetOut(a.out)
	root.SetErr(a.err)
	if err := root.ExecuteContext(ctx); errors.Is(err, syscall.EPIPE) {
		return statusUnusable // nobody reads on, as in a pipe into head: there is nothing to tell and nobody to tell it to
	} else if err != nil {
		fmt.Fprintf(a.err, "scantling: %v\n", err)
		if a.settings.Format = cmp.Or(a.settings.Format, a.flags.Format); a.settings.Format == "json" {
			_ = a.refuse([]report.Problem{{Message: err.Error()}}) // what cannot be written either has been said above
		}
		return statusUnusable
	}
	return a.status
}

// interruptible is a context that ends with a signal to end, so that no region's process or folder is left behind. For
// the same reason a reader of the output who has gone is an error of writing, and not the end of this process.
func interruptible() (context.Context, context.CancelFunc) {
	signals := []os.Signal{os.Interrupt, syscall.SIGTERM}
	if !signal.Ignored(syscall.SIGHUP) { // as under nohup
		signals = append(signals, syscall.SIGHUP)
	}
	ctx, stop := signal.NotifyContext(context.Background(), signals...)
	broken := make(chan os.Signal, 1)
	signal.Notify(broken, syscall.SIGPIPE)
	return ctx, func() {
		signal.Stop(broken)
		stop()
	}
}

func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "scantling",
		Short: "Hold a framing model against rules, and see where its loads land",
		Long: "Scantling reads a framing model, works out what every member carries and where that load lands, and holds the\n" +
			"frame against rule packs. It says what is not met, what must be asked of the engineer, and what it could not check.\n\n" +
			finding.Caution,
		SilenceUsage:  true,
		SilenceErrors: true,
		Version:       engine.Version,
		PersistentPreRunE: func(cmd *cobra.Command, _ []string) error {
			return a.configure(cmd)
		},
	}
	root.CompletionOptions.DisableDefaultCmd = true
	flags := root.PersistentFlags()
	flags.StringVar(&a.flags.Region, "region", "", "ISO 3166-2 code of the region; beats the model's own")
	flags.StringArrayVar(&a.flags.Packs, "pack", nil, "a house pack (YAML file); may be given more than once")
	flags.StringVar(&a.flags.RegionFile, "region-file", "", "executable of someone else's region")
	flags.StringVar(&a.flags.SHA256, "sha256", "", "its SHA-256, in hexadecimal")
	root.AddCommand(a.checkCommand(), a.compareCommand(), a.sizeCommand(), a.takedownCommand(), a.schemaCommand(), a.factsCommand(), a.packCommand(), a.spansCommand(), a.regionCommand(), a.signoffCommand(), a.draftCommand(), a.scheduleCommand(), a.traceCommand(), a.reportCommand())
	root.SetUsageTemplate(strings.ReplaceAll(root.UsageTemplate(), "Flags.FlagUsages", "Flags.FlagUsagesWrapped 80"))
	help(root)
	return root
}

// help makes what a command says of itself fit 80 columns, and a call with too few or too many words say how it goes.
func help(cmd *cobra.Command) {
	cmd.Long = paragraphs(cmd.Long)
	if wants := cmd.Args; wants != nil {
		cmd.Args = func(cmd *cobra.Command, args []string) error {
			if wants(cmd, args) == nil {
				return nil
			}
			given := "nothing"
			if len(args) > 0 {
				given = strings.Join(args, " ") + " and nothing else"
			}
			return fmt.Errorf("%s was given %s; the call is: %s", strings.TrimPrefix(cmd.CommandPath(), cmd.Root().Name()+" "), given, cmd.UseLine())
		}
	}
	for _, sub := range cmd.Commands() {
		help(sub)
	}
}

// session opens the packs and regions that the settings name.
func (a *app) session() (*engine.Session, error) {
	house, err := a.house()
	if err != nil {
		return nil, err
	}
	if a.regions != nil {
		return engine.NewSession(a.regions, house), nil
	}
	regions, err := a.settings.regions()
	if err != nil {
		return nil, err
	}
	if code := a.settings.Region; code != "" && regions.find(code) == nil {
		return nil, unusablef("no region serves %q; `scantling region list` names those that do", code)
	}
	return engine.NewSession(regions, house), nil
}

// house reads the house packs that the settings name, in their order.
func (a *app) house() ([]*pack.Pack, error) {
	var house []*pack.Pack
	var problems []error
	for _, file := range a.settings.Packs {
		p, err := pack.Open(file, pack.House)
		if err != nil {
			problems = append(problems, err)
			continue
		}
		house = append(house, p)
	}
	if len(problems) > 0 {
		return nil, unusable{errors.Join(problems...)}
	}
	return house, nil
}

// onModel opens a session and one model for a verb. What is wrong with the model is printed, with status 2.
func (a *app) onModel(file string, do func(*engine.Session, *engine.Source) error) error {
	session, err := a.session()
	if err != nil {
		return err
	}
	defer session.Close()
	src, problems := a.one(file)
	if problems != nil {
		return a.refuse(problems)
	}
	return do(session, src)
}
