"""The public contract: job documents and price lists in, quotes and problems out; one declaration a record."""
