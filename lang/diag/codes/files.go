package codes

// files has the codes of what is wrong with files that a command reads, and with the
// program itself: no design alone raises them.
func files() []Entry {
	return []Entry{
		{
			Code:  "file-too-large",
			Means: "A file is larger than can be read.",
			Do:    "Take the right file, or split it.",
			Test:  "cmd/internal/disk.TestReadErrors",
		},
		{
			Code:  "folder",
			Means: "The name is that of a folder, not of a file.",
			Do:    "Name a file in it.",
			Test:  "cmd/internal/disk.TestReadErrors",
		},
		{
			Code:  "internal",
			Means: "foredge itself has failed. The design may be all right.",
			Do:    "Run it again with FOREDGE_TRACE=1 set and report what it prints.",
			Test:  "cmd/foredge.TestToldErrors",
		},
		{
			Code:  "missing-file",
			Means: "There is no file of this name.",
			Do:    "Check its name and folder.",
			Test:  "cmd/internal/disk.TestReadErrors",
		},
		{
			Code:  "missing-folder",
			Means: "The folder that the command runs in is gone.",
			Do:    "Change to one that is there.",
			Test:  "cmd/internal/driver.TestOpenWithoutFolder",
		},
		{
			Code:  "no-file",
			Means: "The name is that of a device or something else that is not an ordinary file.",
			Do:    "Name a file, or - for standard input.",
			Test:  "cmd/internal/disk.TestReadErrors",
		},
		{
			Code:  "no-revision",
			Means: "What is named is no file and no revision of the version control, or the file belongs to no repository, or git isn't installed.",
			Do:    "Name a file, or a revision as git knows it, as in foredge diff HEAD~1 harbour-log.fore.",
			Test:  "cmd/foredge.TestDiffOfRevisions",
		},
		{
			Code:  "stopped",
			Means: "The command was stopped before it was done.",
			Do:    "Run it again; a batch goes on with --resume.",
			Test:  "cmd/foredge.TestToldErrors",
		},
		{
			Code:  "unreadable",
			Means: "A file or folder is there but can't be read.",
			Do:    "See that you may read it.",
			Test:  "cmd/internal/disk.TestReadErrors",
		},
	}
}

// outputs has the codes of what is wrong with files that a command writes.
func outputs() []Entry {
	return []Entry{
		{
			Code:  "another-design",
			Means: "A file of that name is there which was made of another design, and it would be replaced, or a batch would go on with another's. What foredge makes says the name of its design and those of its panels: another name, or no panel in common, is another design.",
			Do:    "Build into another folder with -o, or rename the design. If it is the same one, whose panels were renamed, write --force once.",
			Test:  "testdata/script/build_another_design.txtar",
		},
		{
			Code:  "another-table",
			Means: "A batch is to go on in a folder where no order of its table was made before, so that all that is there would be moved aside.",
			Do:    "Choose the right folder with -o. If it is the same table, put right, write --resume --force once.",
			Test:  "testdata/script/batch_another_table.txtar",
		},
		{
			Code:  "cannot-write",
			Means: "A file can't be written where it should go, or must not be replaced: it may only be read, or has a second name under which the old text would stay.",
			Do:    "Choose another folder with -o where the command has it, or make room or leave to write there.",
			Test:  "cmd/internal/disk.TestWriteSetFailsWhole",
		},
		{
			Code: "earlier-build", As: warning(),
			Means: "A file of an earlier build of this design lies among its files, and this build didn't make it, as its panel or the marks on its inside are gone, or its parts lie on other sheets; or it is of a job that its file doesn't state any more. It is taken away, unless it may be of another design of that name, was changed since, or is in a format that isn't written now.",
			Do:    "See that none that stays is cut by mistake.",
			Test:  "testdata/script/build_another_design.txtar",
		},
		{
			Code:  "folder-busy",
			Means: "Another foredge writes into the folder and hasn't ended for a long time.",
			Do:    "Wait until it has ended, or choose another folder with -o.",
			Test:  "cmd/internal/disk.TestFolderIsHeld",
		},
		{
			Code:  "made-before",
			Means: "The files of an earlier batch are there, and nothing is overwritten.",
			Do:    "Go on with that batch by --resume, or choose another folder.",
			Test:  "testdata/script/batch_makes.txtar",
		},
		{
			Code:  "not-ours",
			Means: "A file of that name is there which foredge didn't make, or which was changed since, and it would be replaced; for an overlay also what is no overlay. What foredge makes holds a comment with a sum of the rest.",
			Do:    "Build into another folder with -o, rename it, or replace it with --force.",
			Test:  "testdata/script/build_never_replaces_others.txtar",
		},
		{
			Code:  "overwrites-input",
			Means: "A cut file would be written over one that the design is made from.",
			Do:    "Choose another folder with -o, or rename one of the two.",
			Test:  "cmd/internal/disk.TestCheckSet",
		},
		{
			Code:  "same-output",
			Means: "Two files that are to be written would have one name.",
			Do:    "Rename one of them, build into different folders with -o, or leave out --each.",
			Test:  "cmd/internal/disk.TestCheckSet",
		},
	}
}
