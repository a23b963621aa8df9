"""What is kept: clubs, their teams and matches, and each match's log of events, which only ever grows.

A function that writes is one transaction. Every table carries its club, and every question names it.
"""
