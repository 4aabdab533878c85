"""The award: written standard, decision with reasons, signed credential, printable certificate, verification.

Knows no notebook, no database and no network: it takes tables of marks and files, and gives files.

The road through the modules: `blueprint` and `marks` (what is assessed, what was earned), `reliability` and
`agreement`, gathered in `quality` (how far the marks can be trusted), `standard` (where the cut lies), `decision` and
`review` (what follows for one trainee, and why), `record` (the chained record of decisions), `keys`, `credential` and
`status` (the signed token and its revocation), `certificate` and `badge` (what a person holds), `issue` (all of it,
safe to interrupt), `verify`. Files are locked in the POSIX way.
"""
