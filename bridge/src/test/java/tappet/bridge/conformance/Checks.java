package tappet.bridge.conformance;

import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;

/** The numbers of the behaviours that a test checks, as in {@code conformance/README.md}. */
@Target(ElementType.METHOD)
@Retention(RetentionPolicy.RUNTIME)
@interface Checks {

  int[] value();
}
