// Command sidebatch turns the notes of side-by-side kitchen trials into a site.
package main

import (
	"os"

	"sidebatch.example/sidebatch/internal/cli"
)

func main() {
	os.Exit(cli.Run(os.Args[1:], os.Stdout, os.Stderr))
}
