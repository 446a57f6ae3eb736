"""Runs the whole portal on one machine: broker, web server, worker and beat as child processes."""
