"""Papers: what is printed beside the drawings, each made of plain values and set by typst."""
