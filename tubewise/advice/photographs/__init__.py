"""What a photograph tells of tubes, boxes and daubs, as plain results for every door."""
