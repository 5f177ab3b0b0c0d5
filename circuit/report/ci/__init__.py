"""Results of `check` in the formats that code hosts and test runners read: all from the plain rows of `gate/found`."""
