// Command scantling holds a framing model against rule packs and says what is not met, what must be asked of the
// engineer, and what could not be checked. The command line is thin: it reads, calls the engine and prints. It is the
// one place that names the regions that ship.
package main

import (
	"os"

	"example.com/scantling/plugins/region/host"
)

func main() {
	if os.Getenv("GOGC") == "" {
		collectLate()
	}
	host.ServeIfAsked(servers())
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
