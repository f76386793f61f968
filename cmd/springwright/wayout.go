package main

import (
	"context"

	"springwright/design/notice"
	"springwright/optimize"
)

// wayOut says what would turn a target that cannot be met into one that can.
func wayOut(ctx context.Context, nearest optimize.Chosen, p *progress) ([]string, error) {
	defer p.clear()
	advice, err := optimize.Advise(ctx, nearest, optimize.Options{Progress: p.update})
	if err != nil {
		return nil, err
	}
	return said(advice), nil
}

// said are notices in English, without their hints.
func said(list notice.List) []string {
	var lines []string
	for _, n := range list {
		text, _ := english().Notice(n)
		lines = append(lines, text)
	}
	return lines
}
