"""The rim: microphone, recognizer, voice, notebook and terminal."""
