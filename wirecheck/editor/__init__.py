"""What an editor asks of a text while it is typed: plain functions of it, and the server
that maps them to the Language Server Protocol (version 3.17).

Source: https://microsoft.github.io/language-server-protocol/specifications/lsp/3.17/specification/
"""
