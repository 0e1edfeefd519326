"""What is bought besides boards: nails, blocks, plates, adhesive, sealant, filler, primer and paint."""
