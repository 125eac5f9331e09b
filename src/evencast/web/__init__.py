"""The app in the browser: parse, call, render. Same actions and same results as the terminal."""
