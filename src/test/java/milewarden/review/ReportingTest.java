package milewarden.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.io.ByteArrayInputStream;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import javax.xml.parsers.DocumentBuilderFactory;
import milewarden.accuracy.LadderStep;
import milewarden.report.Digits;
import milewarden.report.Judged;
import milewarden.report.Words;
import milewarden.report.page.verdict.VerdictPage;
import milewarden.report.paper.FirmwareReport;
import milewarden.report.paper.ReportHtml;
import milewarden.report.paper.Subject;
import milewarden.units.UnitChoice;
import milewarden.verdict.CampaignPlan;
import milewarden.verdict.Conformity;
import milewarden.verdict.PlanOnRecord;
import milewarden.verdict.Policy;
import milewarden.verdict.PublishedVerdict;
import milewarden.verdict.ReleaseFigures;
import milewarden.verdict.Threshold;
import milewarden.verdict.VerdictState;
import milewarden.verdict.place.MeanLadder;
import org.junit.jupiter.api.Test;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;

/** The report: its content, its HTML against an XML parser, its JSON against its HTML. */
final class ReportingTest {
  private static final Policy POLICY = Policy.defaults();
  private static final Digits DIGITS = Digits.of(UnitChoice.METRIC, Locale.UK, ZoneOffset.UTC);
  private static final ReleaseFigures FIGURES = Judged.figures(6, 1.87, 0.47, 0.8, 3.0);

  private static final Optional<PlanOnRecord> PLAN =
      Optional.of(
          new PlanOnRecord(
              new CampaignPlan(
                  "Fell 2",
                  "2.1.0",
                  "1.7.0",
                  List.of(CampaignPlan.Planned.of(Judged.LOOP)),
                  List.of(),
                  POLICY.looks(),
                  POLICY.materialChangePercent(),
                  CampaignPlan.Stop.AT_THE_LAST_LOOK,
                  "",
                  "Ada",
                  Instant.parse("2026-10-01T09:00:00Z")),
              Optional.of(Instant.parse("2026-10-02T09:00:00Z")),
              List.of(
                  new PlanOnRecord.Deviation(
                      PlanOnRecord.What.STOPPED_EARLY, Optional.empty(), "verdict 3", 6))));

  private static PublishedVerdict verdict(String words) {
    Policy.Purpose purpose = POLICY.purposes().get(0);
    Conformity decision =
        new Conformity(
            purpose,
            Judged.source(),
            Conformity.Decision.FAIL,
            Conformity.Decision.FAIL,
            Conformity.Decision.FAIL,
            true,
            ReleaseFigures.Sufficiency.PROVISIONAL,
            OptionalDouble.of(1.87),
            OptionalDouble.of(0.47),
            OptionalDouble.of(0.01),
            OptionalDouble.of(0.02),
            OptionalDouble.empty());
    return new PublishedVerdict(
        "Fell 2",
        3,
        "2.1.0",
        List.of("fell-2-a"),
        List.of(Judged.LOOP),
        List.of(decision),
        FIGURES,
        List.of(),
        Threshold.State.RAISED,
        List.of(new PublishedVerdict.RunUsed(1, "B1", "fell-2-a", "ab12")),
        List.of(new PublishedVerdict.CourseUsed("mill-meadow-loop", "v1")),
        POLICY,
        "1",
        true,
        words,
        Instant.parse("2026-11-21T09:00:00Z"),
        Optional.of(new PublishedVerdict.Replaced(2, PublishedVerdict.Reason.NEW_FIRMWARE)),
        PLAN);
  }

  private static FirmwareReport report(Optional<PublishedVerdict> verdict, boolean open) {
    return report("2.1.0", verdict, open);
  }

  private static FirmwareReport report(
      String firmware, Optional<PublishedVerdict> verdict, boolean open) {
    return report(firmware, verdict, open, DIGITS);
  }

  private static FirmwareReport report(
      String firmware, Optional<PublishedVerdict> verdict, boolean open, Digits digits) {
    MeanLadder ladder =
        new MeanLadder("2.1.0", 6, Map.of(LadderStep.WEAVE, 12.0, LadderStep.BEND, -4.0));
    return FirmwareReport.of(
        new Subject(
            firmware,
            Judged.model(),
            verdict.map(
                v ->
                    new Subject.Published(
                        v,
                        new VerdictPage.Fate(
                            "Ada",
                            VerdictState.CURRENT,
                            Optional.empty(),
                            Optional.empty(),
                            true))),
            List.of(ladder),
            POLICY,
            open,
            PLAN,
            verdict.map(v -> Reporting.CAPSULE)),
        digits);
  }

  // A parser of XML as the judge of the markup: it refuses what isn't nested and quoted well.
  private static Document parsed(String html) throws Exception {
    return DocumentBuilderFactory.newInstance()
        .newDocumentBuilder()
        .parse(new ByteArrayInputStream(html.getBytes(StandardCharsets.UTF_8)));
  }

  private static List<Element> all(Document page, String name) {
    NodeList nodes = page.getElementsByTagName(name);
    List<Element> out = new ArrayList<>();
    for (int i = 0; i < nodes.getLength(); i++) out.add((Element) nodes.item(i));
    return out;
  }

  @Test
  void holdsAllThatTheReportIsToSay() {
    String html = ReportHtml.of(report(Optional.of(verdict("It reads long.")), true));
    assertThat(html)
        .contains("It reads long.", "Verdict 3", "fell-2-a", "6\u00a0sessions")
        .contains("What was planned", "Planned by Ada", "was published on 6\u00a0sessions, before")
        .contains("What was tested and how", "The figures", "by which rule")
        .contains("Where the error arises", "What it means for a runner")
        .contains("Limits of the test", Words.SCOPE, "Few units were tested")
        .contains("milewarden verdict check", "href=\"capsule.zip\"", "verdict 2")
        .contains("new firmware", "engine version 1");
    for (String caution : Words.CAUTIONS) assertThat(html).contains(caution);
  }

  @Test
  void isOneFileThatFetchesNothing() throws Exception {
    String html = ReportHtml.of(report(Optional.of(verdict("Words.")), true));
    assertThat(html).doesNotContain("http", "<script", "<link", "<img", "@import", "src=");
    // Only to the hatches within it.
    assertThat(html.replace("url(#", "")).doesNotContain("url(");
    // Each for a sheet and for a telephone.
    assertThat(all(parsed(html), "figure")).hasSize(3);
    assertThat(all(parsed(html), "svg")).hasSize(6);
  }

  @Test
  void everyPartHasItsHeadingAndEveryDrawingItsNameAndCaption() throws Exception {
    Document page = parsed(ReportHtml.of(report(Optional.empty(), true)));
    assertThat(all(page, "h1")).hasSize(1);
    for (Element section : all(page, "section"))
      assertThat(section.getElementsByTagName("h2").getLength()).isEqualTo(1);
    for (Element svg : all(page, "svg")) assertThat(svg.getAttribute("aria-label")).isNotBlank();
    for (Element figure : all(page, "figure")) {
      assertThat(figure.getElementsByTagName("figcaption").getLength()).isEqualTo(1);
      List<String> kinds = new ArrayList<>();
      for (Element svg : all(page, "svg"))
        if (svg.getParentNode().equals(figure)) kinds.add(svg.getAttribute("class"));
      assertThat(kinds).containsExactly("wide", "narrow");
    }
    List<String> ids = new ArrayList<>();
    NodeList every = page.getElementsByTagName("*");
    for (int i = 0; i < every.getLength(); i++) {
      String id = ((Element) every.item(i)).getAttribute("id");
      if (!id.isEmpty()) ids.add(id);
    }
    assertThat(ids).doesNotHaveDuplicates();
  }

  @Test
  void everySentenceAndFigureOfTheJsonStandsInTheHtml() throws Exception {
    FirmwareReport report = report(Optional.of(verdict("So & so <b>.")), true);
    JsonNode json = new JsonMapper().readTree(Reporting.json(report));
    String html = ReportHtml.of(report);
    String text = parsed(html).getDocumentElement().getTextContent();
    List<String> told = new ArrayList<>();
    texts(json, told);
    assertThat(told).hasSizeGreaterThan(60);
    for (String each : told)
      assertThat(text.contains(each) || html.contains("=\"" + each + "\"")).as(each).isTrue();
  }

  // Keys are for programs; a purpose's limits name it in the caption; labels are checked below.
  private static void texts(JsonNode node, List<String> into) {
    node.properties()
        .forEach(
            e -> {
              if (!e.getKey().equals("key")) texts(e.getValue(), into);
            });
    if (node.isArray()) node.forEach(n -> texts(n, into));
    if (node.isTextual() && !node.asText().isEmpty()) into.add(node.asText());
  }

  // JCGM 100:2008, 6.2.1: the interval is the mean -+ its expanded uncertainty.
  @Test
  void theJsonGivesItsNumbersUnrounded() throws Exception {
    JsonNode n =
        new JsonMapper()
            .readTree(Reporting.json(report(Optional.of(verdict("W.")), true)))
            .get("numbers");
    double mean = n.get("meanPercent").asDouble();
    double u = n.get("expandedUncertaintyPercent").asDouble();
    assertThat(mean).isEqualTo(1.87);
    assertThat(n.get("lowPercent").asDouble()).isCloseTo(mean - u, within(1e-12));
    assertThat(n.get("highPercent").asDouble()).isCloseTo(mean + u, within(1e-12));
    assertThat(n.get("sessions").asInt()).isEqualTo(6);
  }

  // Proportion: on a linear scale through zero a value's place is in ratio to a limit's.
  @Test
  void theDrawingIsToScale() throws Exception {
    Document page = parsed(ReportHtml.of(report(Optional.of(verdict("W.")), true)));
    Element svg = all(page, "svg").get(0);
    double zero = 340;
    double mean = 0;
    NodeList paths = svg.getElementsByTagName("path");
    mean =
        Double.parseDouble(((Element) paths.item(0)).getAttribute("d").substring(1).split(" ")[0])
            + 6;
    Element widest = (Element) svg.getElementsByTagName("rect").item(0);
    double limit = Double.parseDouble(widest.getAttribute("width")) / 2;
    double limitPercent =
        POLICY.purposes().stream()
            .mapToDouble(Policy.Purpose::meanLimitPercent)
            .max()
            .orElseThrow();
    // Coordinates are given to a tenth.
    assertThat((mean - zero) / limit).isCloseTo(1.87 / limitPercent, within(0.002));
  }

  @Test
  void forThePublicNothingIsTakenFromWhatWasNotPublished() {
    String all = ReportHtml.of(report(Optional.of(verdict("W.")), true));
    String open = ReportHtml.of(report(Optional.of(verdict("W.")), false));
    assertThat(all).contains("1.9.0", "Where the error arises");
    assertThat(open).doesNotContain("1.9.0", "2.0.0", "Where the error arises");
    assertThat(open).contains("Good enough for what", "What it means for a runner");
  }

  @Test
  void anUntestedReleaseSaysSoAndDecidesNothing() throws Exception {
    String html = ReportHtml.of(report("2.2.0", Optional.empty(), true));
    parsed(html);
    assertThat(html).contains("not tested", "Not published");
    assertThat(html).doesNotContain("Good enough", "for a runner");
  }

  @Test
  void hostileWordsStayWords() throws Exception {
    String words = "</blockquote><script>alert(1)</script> & \u0001";
    String html = ReportHtml.of(report(Optional.of(verdict(words)), true));
    assertThat(all(parsed(html), "script")).isEmpty();
    assertThat(all(parsed(html), "blockquote").get(0).getTextContent()).contains("alert(1)");
  }

  @Test
  void theLadderIsOverTheUnitThatWasChosen() {
    assertThat(words(report("2.1.0", Optional.empty(), true)))
        .contains("over one kilometre")
        .contains("+12.0 m per km");
    Digits miles = Digits.of(UnitChoice.IMPERIAL, Locale.US, ZoneOffset.UTC);
    // 12 m in a kilometre are 12 ft in 1,000 ft; a mile has 5,280: 63.36 ft.
    assertThat(words(report("2.1.0", Optional.empty(), true, miles)))
        .contains("over one mile")
        .contains("+63.4 ft per mi")
        .doesNotContain("kilometre");
  }

  private static String words(FirmwareReport report) {
    return ReportHtml.of(report).replace('\u00a0', ' ');
  }
}
