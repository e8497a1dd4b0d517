package tappet.proof.track;

import tappet.network.Expression;
import tappet.proof.Property.Kind;

/** Wherever the premise holds, the consequence must hold too. */
record Demand(Kind kind, String words, Expression premise, Expression consequence) {}
