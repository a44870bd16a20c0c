"""The local web application: pages for people, a JSON side for programs, one guard before both."""
