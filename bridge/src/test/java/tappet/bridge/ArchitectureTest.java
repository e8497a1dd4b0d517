package tappet.bridge;

import static com.tngtech.archunit.core.domain.JavaCall.Predicates.target;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAPackage;
import static com.tngtech.archunit.core.domain.properties.HasName.Predicates.nameMatching;
import static com.tngtech.archunit.core.domain.properties.HasOwner.Predicates.With.owner;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;

import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.core.importer.Location;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import com.tngtech.archunit.lang.ArchRule;
import java.time.Clock;
import java.util.Random;
import java.util.UUID;
import java.util.concurrent.ThreadLocalRandom;
import tappet.interlocking.Input;
import tappet.interlocking.Interlocking;

/** The plan of the house: who may know whom, and which rooms have no clock. */
@AnalyzeClasses(packages = "tappet", importOptions = ArchitectureTest.MainCode.class)
class ArchitectureTest {

  /** Leaves out test classes, also those that another module lends in a jar. */
  static final class MainCode implements ImportOption {
    @Override
    public boolean includes(Location location) {
      return !location.contains("/test-classes/") && !location.contains("-tests.jar");
    }
  }

  private static final String[] SHARED = {
    "tappet.source..", "tappet.lcc..", "tappet.layout..", "tappet.sentence.."
  };
  private static final String[] PURE_ROOMS = {
    "tappet.source..",
    "tappet.lcc..",
    "tappet.layout..",
    "tappet.sentence..",
    "tappet.network..",
    "tappet.rules..",
    "tappet.interlocking..",
    "tappet.proof..",
    "tappet.simulator.."
  };

  @ArchTest
  static final ArchRule OWNERS_FILES_ARE_READ_WITHOUT_KNOWING_A_RAILWAY =
      classes()
          .that()
          .resideInAPackage("tappet.source..")
          .should()
          .onlyDependOnClassesThat()
          .resideInAnyPackage(
              "java..", "org.snakeyaml..", "org.apache.commons..", "tappet.source..")
          .because("places and problems serve every kind of file");

  @ArchTest
  static final ArchRule THE_WIRE_KNOWS_NO_LAYOUT =
      classes()
          .that()
          .resideInAPackage("tappet.lcc..")
          .should()
          .onlyDependOnClassesThat()
          .resideInAnyPackage("java..", "tappet.lcc..")
          .because("frames and messages mean the same on every layout");

  @ArchTest
  static final ArchRule SHARED_KNOWS_NO_OTHER_ROOM =
      noClasses()
          .that()
          .resideInAnyPackage(SHARED)
          .should()
          .dependOnClassesThat()
          .resideInAnyPackage(
              "tappet.network..",
              "tappet.rules..",
              "tappet.interlocking..",
              "tappet.proof..",
              "tappet.simulator..",
              "tappet.bridge..")
          .because("shared lies under all other rooms");

  @ArchTest
  static final ArchRule THE_NETWORK_KNOWS_NO_RAILWAY =
      classes()
          .that()
          .resideInAPackage("tappet.network..")
          .should()
          .onlyDependOnClassesThat()
          .resideInAnyPackage("java..", "tappet.network..")
          .because("what runs, is proven and explains is boolean equations and nothing else");

  @ArchTest
  static final ArchRule THE_CONTROL_TABLE_DOES_NOT_KNOW_WHAT_IT_IS_COMPILED_INTO =
      noClasses()
          .that()
          .resideInAPackage("tappet.rules..")
          .should()
          .dependOnClassesThat()
          .resideInAnyPackage("tappet.network..", "tappet.interlocking..")
          .because("the table says what an owner wrote; its meaning is compiled from it");

  @ArchTest
  static final ArchRule THE_PROOF_SEES_NEITHER_THE_RULES_NOR_HOW_THEY_ARE_COMPILED =
      noClasses()
          .that()
          .resideInAPackage("tappet.proof..")
          .should()
          .dependOnClassesThat()
          .resideInAnyPackage("tappet.rules..", "tappet.interlocking..")
          .because("what safety is must not follow from what an owner wrote, or from its compiler");

  @ArchTest
  static final ArchRule SAFETY_FOLLOWS_FROM_THE_TRACK_PLAN_ALONE =
      classes()
          .that()
          .resideInAPackage("tappet.proof.track..")
          .should()
          .onlyDependOnClassesThat()
          .resideInAnyPackage("java..", "tappet.layout..", "tappet.network..", "tappet.proof..")
          .because("safety is a matter of track and trains, whoever searches for its violation");

  @ArchTest
  static final ArchRule THE_TRACK_KNOWS_NO_SOLVER =
      noClasses()
          .that()
          .resideInAPackage("tappet.proof.track..")
          .should()
          .dependOnClassesThat()
          .resideInAPackage("tappet.proof.sat..")
          .because("what must hold does not depend on how it is proved");

  @ArchTest
  static final ArchRule WHAT_RUNS_DOES_NOT_KNOW_ITS_PROOF =
      noClasses()
          .that()
          .resideInAnyPackage("tappet.rules..", "tappet.interlocking..")
          .should()
          .dependOnClassesThat()
          .resideInAPackage("tappet.proof..")
          .because("the proof looks at what runs, and is not part of it");

  @ArchTest
  static final ArchRule ONE_ROOM_KNOWS_THE_SOLVER =
      noClasses()
          .that()
          .resideOutsideOfPackage("tappet.proof.sat..")
          .should()
          .dependOnClassesThat()
          .resideInAPackage("org.sat4j..")
          .because("another solver must be able to take its place");

  @ArchTest
  static final ArchRule ONE_ROOM_KNOWS_THE_DATABASE =
      noClasses()
          .that()
          .resideOutsideOfPackage("tappet.bridge.journal..")
          .should()
          .dependOnClassesThat()
          .resideInAnyPackage("java.sql..", "org.sqlite..")
          .because("what stands in a file is known where it is written");

  @ArchTest
  static final ArchRule RULES_KNOW_NEITHER_THE_SIMULATOR_NOR_THE_DAEMON =
      noClasses()
          .that()
          .resideInAnyPackage(
              "tappet.network..", "tappet.rules..", "tappet.interlocking..", "tappet.proof..")
          .should()
          .dependOnClassesThat()
          .resideInAnyPackage("tappet.simulator..", "tappet.bridge..", "tappet.lcc..")
          .because("the interlocking is told what happens and tells what is to be done");

  @ArchTest
  static final ArchRule THE_SIMULATED_RAILWAY_KNOWS_OF_NO_RULES =
      noClasses()
          .that()
          .resideInAPackage("tappet.simulator..")
          .should()
          .dependOnClassesThat()
          .resideInAnyPackage(
              "tappet.network..",
              "tappet.rules..",
              "tappet.interlocking..",
              "tappet.proof..",
              "tappet.bridge..")
          .because("on a real railroad, too, only frames tell the boards what to do");

  @ArchTest
  static final ArchRule FRAMES_ARE_CARRIED_WITHOUT_KNOWING_WHAT_THEY_DO =
      noClasses()
          .that()
          .resideInAnyPackage("tappet.bridge.adapter..", "tappet.bridge.hub..")
          .should()
          .dependOnClassesThat()
          .resideInAnyPackage(
              "tappet.layout..",
              "tappet.interlocking..",
              "tappet.bridge.box..",
              "tappet.bridge.field..",
              "tappet.bridge.web..")
          .because("adapters and hub must serve any bus");

  @ArchTest
  static final ArchRule ONLY_THE_BOX_STEPS_THE_INTERLOCKING =
      noClasses()
          .that()
          .resideOutsideOfPackages("tappet.bridge.box..", "tappet.interlocking..")
          .should()
          .callMethod(Interlocking.class, "step", Input.class, long.class)
          .orShould()
          .callMethod(Interlocking.class, "advance", long.class)
          .because("there is one writer");

  @ArchTest
  static final ArchRule PURE_ROOMS_HAVE_NO_CLOCK =
      noClasses()
          .that()
          .resideInAnyPackage(PURE_ROOMS)
          .should()
          .callMethod(System.class, "nanoTime")
          .orShould()
          .callMethod(System.class, "currentTimeMillis")
          .orShould()
          .dependOnClassesThat()
          .areAssignableTo(Clock.class)
          .orShould()
          .callMethodWhere(
              target(owner(resideInAPackage("java.time"))).and(target(nameMatching("now|instant"))))
          .because("time is an argument: the same inputs at the same times give the same outputs");

  @ArchTest
  static final ArchRule PURE_ROOMS_HAVE_NO_THREAD_FILE_OR_CHANCE =
      noClasses()
          .that()
          .resideInAnyPackage(PURE_ROOMS)
          .should()
          .dependOnClassesThat()
          .belongToAnyOf(Thread.class, Random.class, ThreadLocalRandom.class, UUID.class)
          .orShould()
          .dependOnClassesThat()
          .resideInAnyPackage("java.nio.file..", "java.nio.channels..", "java.net..")
          .orShould()
          .dependOnClassesThat()
          .haveNameMatching("java\\.io\\.(File.*|RandomAccessFile)")
          .because(
              "what is proven and replayed must not depend on the machine it runs on; chance from a"
                  + " fixed seed (SplittableRandom) is none");

  @ArchTest
  static final ArchRule WHAT_RUNS_THE_RAILROAD_HAS_NO_WALL_CLOCK =
      noClasses()
          .that()
          .resideInAnyPackage(
              "tappet.bridge.adapter..",
              "tappet.bridge.box..",
              "tappet.bridge.field..",
              "tappet.bridge.hub..",
              "tappet.bridge.node..")
          .or()
          .haveNameMatching("tappet\\.bridge\\.pages\\.(Gate|Guesses|Sessions|Tries)")
          .should()
          .callMethod(System.class, "currentTimeMillis")
          .orShould()
          .dependOnClassesThat()
          .areAssignableTo(Clock.class)
          .orShould()
          .callMethodWhere(
              target(owner(resideInAPackage("java.time"))).and(target(nameMatching("now|instant"))))
          .because(
              "a wall clock is set, and jumps: no lock, session or wait may become longer or shorter"
                  + " by that");

  @ArchTest
  static final ArchRule NO_TWO_ROOMS_NEED_EACH_OTHER =
      slices().matching("tappet.(**)").should().beFreeOfCycles().because("data flows one way");
}
