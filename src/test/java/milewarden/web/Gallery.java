package milewarden.web;

import java.time.ZoneOffset;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import milewarden.report.Digits;
import milewarden.report.Status;
import milewarden.report.page.DueEntry;
import milewarden.report.page.model.ModelPage;
import milewarden.report.page.overview.OverviewPage;
import milewarden.units.UnitChoice;
import milewarden.verdict.ModelExcerpt;
import milewarden.verdict.Policy;

/** Sample pages, served for the eye: every page with made-up records. */
final class Gallery {
  static final Digits DIGITS = Digits.of(UnitChoice.METRIC, Locale.UK, ZoneOffset.UTC);

  private Gallery() {}

  static WebServer start(int port) {
    Renderer renderer = new Renderer();
    return WebServer.start(
        new WebSettings(port),
        renderer,
        List.of(
            config -> {
              config.routes.get(
                  "/",
                  http ->
                      renderer.show(
                          http,
                          "overview",
                          Frame.of("Overview", "/"),
                          OverviewPage.ofBeginning(false, 0, 0)));
              config.routes.get(
                  "/models/1",
                  http -> {
                    ModelPage page = model();
                    renderer.show(
                        http,
                        "model",
                        Frame.of(page.name(), ""),
                        page,
                        Map.of("model", page.chart()));
                  });
            }));
  }

  private static ModelPage model() {
    return ModelPage.of(
        1,
        ModelExcerpt.whole(SampleJudgement.of("Thessamor 2")),
        false,
        false,
        List.of(),
        Policy.defaults(),
        List.of(due()),
        List.of(
            new ModelPage.VerdictLine(
                "/verdicts/1/1",
                "Verdict 1",
                "1.8.0",
                "2 Apr 2026",
                Status.broken("under review"),
                "Good enough for training and pacing.")),
        List.of(
            new ModelPage.DisplayLine(
                "The display with steps of 10 m cuts off what is below a step: 14 readings.",
                "On 3 recordings the rule is not known: say “truncated”.",
                "/models/1/display",
                "10.0",
                "truncated")),
        DIGITS);
  }

  private static DueEntry due() {
    return new DueEntry(
        1,
        "verdict update due",
        Status.broken("regression"),
        "Thessamor 2, firmware 2.0.0",
        "/models/1",
        "2.0.0 reads +1.3 points longer than 1.8.0 (+0.9 to +1.7 points, 6 sessions).",
        "Publish a new verdict, or run the 6 sessions that remain to the last look.",
        "12 Jun 2026",
        List.of(new DueEntry.Evidence("12 Jun, harbour-loop, unit A1", "/runs/1")),
        "",
        "/models/1/sheet?item=1");
  }

  public static void main(String[] args) {
    start(Integer.parseInt(args[0]));
  }
}
