package main

import (
	"embed"
	"strings"
)

// topicFiles are the topics of the help: a line that says what each is about, and its text.
//
//go:embed topics/*.txt
var topicFiles embed.FS

// topic is a page of the help that belongs to no command.
type topic struct {
	name, about, text string
}

// topics are all topics, in the order of the help.
func topics() []topic {
	list := []topic{{name: "exit-codes", about: "what the program's exit codes mean", text: exitCodesText}}
	for _, name := range [...]string{"files", "glossary", "printing", "environment"} {
		page, err := topicFiles.ReadFile("topics/" + name + ".txt")
		if err != nil {
			panic("help: " + err.Error()) // the files are in the program
		}
		about, text, _ := strings.Cut(string(page), "\n\n")
		list = append(list, topic{name, about, text})
	}
	return append(list, topic{name: "man", about: "the whole help as a manual page: springwright help man > springwright.1"})
}

func (t topic) help() string {
	if t.name == "man" {
		return manualPage()
	}
	return t.name + ": " + t.about + "\n\n" + t.text
}
