"""Contents of the sample workbooks; all of it invented."""
