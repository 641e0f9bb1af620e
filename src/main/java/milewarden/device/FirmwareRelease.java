package milewarden.device;

import java.time.LocalDate;

/**
 * A firmware release of a model. Releases are ordered by date, never by the text of the version.
 *
 * @param version as the device or the maker writes it
 * @param date the day of release; the first session's where {@code assumed}
 * @param assumed true until the tester gives the date
 */
public record FirmwareRelease(String version, LocalDate date, boolean assumed) {}
