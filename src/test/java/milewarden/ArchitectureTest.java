package milewarden;

import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAPackage;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAnyPackage;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static java.util.Map.entry;
import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.domain.JavaModifier;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.junit.AnalyzeClasses;
import com.tngtech.archunit.junit.ArchTest;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** The package table of DEVELOPERS.md, enforced. */
@AnalyzeClasses(packages = "milewarden", importOptions = ImportOption.DoNotIncludeTests.class)
final class ArchitectureTest {
  private static final List<String> DOMAIN =
      List.of(
          "units",
          "statistics",
          "device",
          "geodesy",
          "track",
          "course",
          "matching",
          "accuracy",
          "verdict",
          "recipient",
          "report",
          "format",
          "simulator");

  static final Map<String, List<String>> MAY_USE =
      Map.ofEntries(
          entry("units", List.of()),
          entry("statistics", List.of()),
          entry("people", List.of()),
          entry("device", List.of("units")),
          entry("geodesy", List.of("units")),
          entry("track", List.of("units", "geodesy", "device")),
          entry("course", List.of("units", "statistics", "geodesy")),
          entry("matching", List.of("units", "geodesy", "track", "course")),
          entry(
              "accuracy",
              List.of("units", "statistics", "device", "geodesy", "track", "course", "matching")),
          entry("verdict", List.of("units", "statistics", "device", "course", "accuracy")),
          entry("recipient", List.of("units", "verdict")),
          entry(
              "report",
              List.of(
                  "units",
                  "statistics",
                  "device",
                  "geodesy",
                  "track",
                  "course",
                  "matching",
                  "accuracy",
                  "verdict",
                  "recipient")),
          entry("format", List.of("units", "geodesy", "device", "track", "course")),
          entry("simulator", List.of("units", "device", "geodesy", "track", "course")),
          entry(
              "store",
              List.of(
                  "units",
                  "statistics",
                  "device",
                  "geodesy",
                  "track",
                  "course",
                  "matching",
                  "accuracy",
                  "verdict",
                  "recipient",
                  "people")),
          entry("intake", with(DOMAIN, "store")),
          entry("review", with(DOMAIN, "store")),
          entry("alert", List.of("store")),
          entry("schedule", List.of()),
          entry(
              "web",
              List.of(
                  "units",
                  "device",
                  "track",
                  "course",
                  "verdict",
                  "recipient",
                  "report",
                  "store",
                  "review",
                  "intake",
                  "people")),
          entry("cli", with(DOMAIN, "people", "store", "intake", "review")),
          entry(
              "app",
              with(
                  DOMAIN,
                  "people",
                  "store",
                  "intake",
                  "review",
                  "alert",
                  "schedule",
                  "web",
                  "cli")));

  private static List<String> with(List<String> base, String... more) {
    List<String> all = new ArrayList<>(base);
    all.addAll(List.of(more));
    return List.copyOf(all);
  }

  @ArchTest
  static void only_the_listed_arrows_exist(JavaClasses all) {
    MAY_USE.forEach(
        (from, to) -> {
          String[] ok =
              Stream.concat(Stream.of(from), to.stream())
                  .map(p -> "milewarden." + p + "..")
                  .toArray(String[]::new);
          noClasses()
              .that()
              .resideInAPackage("milewarden." + from + "..")
              .should()
              .dependOnClassesThat(
                  resideInAPackage("milewarden..")
                      .and(DescribedPredicate.not(resideInAnyPackage(ok))))
              .allowEmptyShould(true)
              .check(all);
        });
  }

  @ArchTest
  static void every_package_has_a_row(JavaClasses all) {
    for (JavaClass c : all) {
      String[] parts = c.getPackageName().split("\\.");
      assertThat(parts.length).as(c.getName()).isGreaterThan(1);
      assertThat(MAY_USE).as("a row for the package of " + c.getName()).containsKey(parts[1]);
    }
  }

  @Test
  void theRowsFormNoCycle() {
    Map<String, Integer> depth = new TreeMap<>();
    for (String p : MAY_USE.keySet()) depth(p, depth, new ArrayList<>());
    assertThat(depth).hasSameSizeAs(MAY_USE);
  }

  private static int depth(String p, Map<String, Integer> known, List<String> path) {
    assertThat(path).as("a cycle through " + p).doesNotContain(p);
    Integer d = known.get(p);
    if (d != null) return d;
    path.add(p);
    int max = 0;
    for (String q : MAY_USE.get(p)) max = Math.max(max, depth(q, known, path) + 1);
    path.remove(p);
    known.put(p, max);
    return max;
  }

  @Test
  void theTableInDevelopersMdIsThisMap() throws IOException {
    Map<String, List<String>> table = new LinkedHashMap<>();
    for (String line : Files.readAllLines(Path.of("DEVELOPERS.md"))) {
      String[] cells = line.split("\\|");
      if (cells.length != 4 || !cells[1].strip().matches("`[a-z]+`")) continue;
      String uses = cells[3].strip();
      String row = cells[1].strip().replace("`", "");
      assertThat(table).as("one row each").doesNotContainKey(row);
      table.put(row, uses.equals("-") ? List.of() : List.of(uses.split("\\s+")));
    }
    assertThat(table).containsOnlyKeys(MAY_USE.keySet());
    MAY_USE.forEach(
        (p, uses) -> assertThat(table.get(p)).as(p).containsExactlyInAnyOrderElementsOf(uses));
  }

  private static void onlyIn(JavaClasses all, String library, String... homes) {
    String[] in = Stream.of(homes).map(p -> "milewarden." + p + "..").toArray(String[]::new);
    noClasses()
        .that()
        .resideOutsideOfPackages(in)
        .should()
        .dependOnClassesThat()
        .resideInAPackage(library)
        .allowEmptyShould(true)
        .check(all);
  }

  @ArchTest
  static void a_library_stays_in_its_one_package(JavaClasses all) {
    onlyIn(all, "java.sql..", "store", "schedule");
    onlyIn(all, "javax.sql..", "store", "schedule", "app");
    onlyIn(all, "org.jdbi..", "store");
    onlyIn(all, "org.flywaydb..", "store");
    onlyIn(all, "com.zaxxer..", "store");
    onlyIn(all, "io.javalin..", "web");
    onlyIn(all, "gg.jte..", "web", "report");
    onlyIn(all, "com.password4j..", "people");
    onlyIn(all, "jakarta.mail..", "alert");
    onlyIn(all, "org.quartz..", "schedule");
    onlyIn(all, "net.sf.geographiclib..", "geodesy");
    onlyIn(all, "org.apache.commons.statistics..", "statistics");
    onlyIn(all, "org.apache.commons.numbers..", "statistics");
    onlyIn(all, "javax.xml..", "format");
    onlyIn(all, "com.fasterxml.aalto..", "format");
    onlyIn(all, "org.knowm..", "report");
    onlyIn(all, "picocli..", "cli", "app");
    // Recordings, results and verdicts are stored and told as JSON: read and written in these
    // alone.
    onlyIn(
        all, "com.fasterxml.jackson..", "format", "store", "intake", "review", "web", "cli", "app");
    onlyIn(all, "java.nio.file..", "intake", "store", "alert", "cli", "app");
    onlyIn(all, "java.io.File..", "app");
  }

  @ArchTest
  static void the_domain_knows_no_clock_and_no_log(JavaClasses all) {
    String[] domain = DOMAIN.stream().map(p -> "milewarden." + p + "..").toArray(String[]::new);
    noClasses()
        .that()
        .resideInAnyPackage(domain)
        .should()
        .dependOnClassesThat()
        .resideInAnyPackage("org.slf4j..", "java.util.logging..")
        .orShould()
        .dependOnClassesThat()
        .haveFullyQualifiedName("java.time.InstantSource")
        .orShould()
        .dependOnClassesThat()
        .haveFullyQualifiedName("java.time.Clock")
        .check(all);
  }

  @ArchTest
  static void only_the_program_asks_for_the_time(JavaClasses all) {
    noClasses()
        .that()
        .resideOutsideOfPackage("milewarden.app..")
        .should()
        .callMethod(java.time.Instant.class, "now")
        .orShould()
        .callMethod(System.class, "currentTimeMillis")
        .orShould()
        .callMethod(java.time.LocalDate.class, "now")
        .orShould()
        .callMethod(java.time.InstantSource.class, "system")
        .check(all);
  }

  @ArchTest
  static void standard_streams_belong_to_the_commands(JavaClasses all) {
    noClasses()
        .that()
        .resideOutsideOfPackages("milewarden.cli..", "milewarden.app..")
        .should()
        .accessField(System.class, "out")
        .orShould()
        .accessField(System.class, "err")
        .check(all);
  }

  @ArchTest
  static void an_interface_is_sealed_or_functional(JavaClasses all) {
    for (JavaClass c : all) {
      if (!c.isInterface() || c.isAnnotation() || c.getSimpleName().equals("package-info"))
        continue;
      long methods =
          c.getMethods().stream()
              .filter(m -> m.getModifiers().contains(JavaModifier.ABSTRACT))
              .count();
      assertThat(c.reflect().isSealed() || methods == 1)
          .as(c.getName() + " is sealed or functional")
          .isTrue();
    }
  }

  @ArchTest
  static void what_intake_is_made_of_does_not_look_up_to_it(JavaClasses all) {
    noClasses()
        .that()
        .resideInAPackage("milewarden.intake.(*)..")
        .should()
        .dependOnClassesThat()
        .resideInAPackage("milewarden.intake")
        .check(all);
  }

  @ArchTest
  static void no_drawer_names(JavaClasses all) {
    classes()
        .should()
        .haveNameNotMatching(".*(Manager|Helper|Util|Utils|Service|Processor|Impl)")
        .check(all);
  }
}
