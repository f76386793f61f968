package main

import (
	"context"
	"fmt"

	"springwright/export"
	"springwright/optimize"
	"springwright/presets"
)

// runGallery designs all presets and prints their drawings as one picture.
func runGallery(ctx context.Context, c console) error {
	listed, err := listPresets()
	if err != nil {
		return err
	}
	p := newProgress(c, "designing the presets", false)
	defer p.clear()
	var items []export.GalleryItem
	for i, preset := range listed.Presets {
		_, wanted, err := presets.Case(preset.Name)
		if err != nil {
			return err
		}
		wanted.Bender.Springs = 0 // how many of them a hand gets right shows in no drawing
		chosen, err := optimize.SearchChoices(ctx, wanted, optimize.Options{Progress: func(done, total int) {
			p.update(i*total+done, len(listed.Presets)*total)
		}})
		if err != nil {
			return fmt.Errorf("preset %s: %w", preset.Name, err)
		}
		items = append(items, export.GalleryItem{
			Name: preset.Name, Kind: chosen.Family, For: preset.For, Teeth: wanted.Teeth, Spring: chosen.Spring,
		})
	}
	picture, err := export.Gallery(items)
	if err != nil {
		return err
	}
	p.clear()
	return writeAll(c.stdout, string(picture))
}
