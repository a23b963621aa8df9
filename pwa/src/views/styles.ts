/**
 * The styles of every page that comes after the first, in one file and one order. Were each page to bring its own, the order would be
 * that in which they happen to arrive, and with it which of two rules wins.
 */
import "../style/match.css";
import "../style/match-pages.css";
import "../style/carry.css";
import "../style/club.css";
import "../style/learn.css";
import "../style/team.css";
import "../style/opponents.css";
import "../style/print.css";
