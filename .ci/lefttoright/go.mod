module github.com/benoitkugler/textprocessing

go 1.26
