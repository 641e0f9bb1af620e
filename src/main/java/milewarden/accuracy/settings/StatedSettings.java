package milewarden.accuracy.settings;

/**
 * The settings that a tester says a recording was made with.
 *
 * @param intervalS seconds between fixes, above 0
 * @param uneven true where the tester says 'smart' recording
 * @param autoPause true where the tester says that it is on
 */
public record StatedSettings(double intervalS, boolean uneven, boolean autoPause) {
  /** What holds where nothing is said: every second, auto-pause off (DOMAIN.md section 2). */
  public static final StatedSettings USUAL = new StatedSettings(1, false, false);

  public StatedSettings {
    if (!(intervalS > 0)) throw new IllegalArgumentException("interval: " + intervalS);
  }
}
