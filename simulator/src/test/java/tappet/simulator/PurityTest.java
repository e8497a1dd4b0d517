package tappet.simulator;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;

/** What makes a run of the railway the same every time. */
@AnalyzeClasses(packages = "tappet.simulator", importOptions = ImportOption.DoNotIncludeTests.class)
class PurityTest {

  @ArchTest
  static final ArchRule NOTHING_HERE_LOOKS_AT_A_CLOCK_A_THREAD_A_FILE_OR_A_DIE =
      noClasses()
          .should()
          .dependOnClassesThat()
          .belongToAnyOf(System.class, Thread.class, java.util.Random.class)
          .orShould()
          .dependOnClassesThat()
          .resideInAnyPackage("java.io..", "java.nio..", "java.net..", "java.util.concurrent..")
          .because("the same calls with the same times must give the same frames");

  @ArchTest
  static final ArchRule RAILWAY_KNOWS_OF_NO_RULES =
      classes()
          .should()
          .onlyDependOnClassesThat()
          .resideInAnyPackage(
              "java..",
              "tappet.simulator..",
              "tappet.layout..",
              "tappet.lcc..",
              "tappet.sentence..",
              "tappet.source..")
          .because("on the real railroad, too, only the frames tell the boards what to do");
}
