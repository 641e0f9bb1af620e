package milewarden.intake;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import milewarden.accuracy.TrackMeasurement;
import milewarden.accuracy.TrackMeasurement.Finding;
import milewarden.accuracy.settings.Departure;
import milewarden.accuracy.settings.SettingsAudit;
import milewarden.intake.tag.Gap;
import milewarden.intake.tag.LeftOut;
import milewarden.intake.tag.RunTags;
import milewarden.intake.tag.SettingsAnswer;
import milewarden.intake.tag.SettingsText;
import milewarden.intake.tag.TagSettling.Held;
import milewarden.intake.tag.TagSettling.Settled;
import milewarden.intake.tag.TagWords;
import milewarden.report.SettingsWords;
import milewarden.store.file.ReceivedFiles.Reason;
import milewarden.track.TagName;
import milewarden.track.TagSource;
import milewarden.track.Track;
import milewarden.verdict.PassEvidence.Exclusion;

/**
 * Holds a recording back whose settings were other than its tester says, until the tester answers.
 * One that counts already is not taken back: its findings say it.
 */
final class SettingsHold {
  private SettingsHold() {}

  static Fate of(Fate.Measured fate, Track track, Settled settled, boolean counts) {
    String interval = settled.value(TagName.INTERVAL).orElse("");
    List<Departure> departures =
        SettingsAudit.of(
            track, fate.found(), SettingsText.stated(interval, fate.tags().settings()));
    if (departures.isEmpty()) return fate;
    if (fate.tags().answer().isPresent())
      return answered(
          fate, departures, fate.tags().answer().get(), settled.held(TagName.SETTINGS_CHECK));
    return counts ? said(fate, fate.tags(), departures) : waits(fate.words(), departures);
  }

  private static Fate waits(List<TagWords> words, List<Departure> departures) {
    return new Fate.Waiting(
        words,
        List.of(new Gap(TagName.SETTINGS_CHECK, Gap.Kind.MISSING, "")),
        new Reason("settings", "", SettingsWords.question(departures)));
  }

  private static Fate answered(
      Fate.Measured fate, List<Departure> departures, SettingsAnswer answer, Optional<Held> said) {
    RunTags tags = fate.tags();
    return switch (answer) {
      case AS_FOUND ->
          said(
              fate,
              tags.withSettings(SettingsText.withFound(tags.settings(), departures)),
              departures);
      case AS_STATED -> said(fate, tags, departures);
      case WRONG -> said(fate, leftOut(tags, said.orElseThrow().source()), departures);
    };
  }

  private static RunTags leftOut(RunTags tags, TagSource source) {
    Map<Integer, LeftOut> excluded = new HashMap<>(tags.excluded());
    // It is the word of whoever answered: the page, a field sheet or a file of tags.
    excluded.putIfAbsent(TagWords.WHOLE, new LeftOut(Exclusion.Reason.WRONG_SETTINGS, source));
    return tags.withExcluded(excluded);
  }

  private static Fate said(Fate.Measured fate, RunTags tags, List<Departure> departures) {
    TrackMeasurement found = fate.found();
    List<Finding> findings = new ArrayList<>(found.findings());
    findings.add(new Finding(Finding.Code.SETTINGS_DIFFER, "", SettingsWords.found(departures)));
    return new Fate.Measured(
        fate.words(), tags, fate.course(), found.with(findings), fate.start(), fate.end());
  }
}
