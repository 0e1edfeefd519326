"""Pages for people: server-rendered, complete without JavaScript."""
