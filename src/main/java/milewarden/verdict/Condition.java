package milewarden.verdict;

import milewarden.course.SkyView;
import milewarden.device.Carriage;
import milewarden.device.Gait;

/**
 * What must be alike for two passes to be compared.
 *
 * @param course slug
 * @param courseVersion hash of the course's content
 * @param settings the settings profile as one text (interval, band, start protocol); may be empty
 */
public record Condition(
    String course,
    String courseVersion,
    SkyView site,
    Carriage carriage,
    Gait gait,
    String settings) {}
