package cli

// exitsOf is the last part of a command's help: what its exit codes mean.
func exitsOf(command string) string {
	done, wrong := "done", "the note has errors"
	usage, could := "wrong usage", "a file or folder could not be read or written"
	switch command {
	case "publish":
		done, wrong = "published; there may be questions", "the notes have errors, and nothing was written"
		could += ", an address leads\n     nowhere, or it was stopped; the old site is as it was"
	case "audit":
		done, wrong = "no errors; there may be questions", "errors; with --values, a citation that does not agree"
	case "preview":
		done, wrong = "ended by Ctrl-C, or by the system", ""
		could += ", or the port is taken"
	case "setup":
		wrong, usage = "", "wrong usage, or the folder is not empty"
	case "foods":
		done, wrong, could = "found", "the food table has no such food", ""
	case "version":
		wrong, could = "", ""
	case "tasting":
		wrong = "the note has errors, or the ballots have, and nothing was written"
	case "gather":
		done, wrong = "taken in", "the note has errors, or a file has, and nothing was written"
	case "blurb":
		usage = "wrong usage, or a limit that is too small for what must stay"
	}
	text := "Exit codes:\n  0  " + done
	for _, line := range []struct{ code, means string }{{"1", wrong}, {"2", usage}, {"3", could}} {
		if line.means != "" {
			text += "\n  " + line.code + "  " + line.means
		}
	}
	return text
}
