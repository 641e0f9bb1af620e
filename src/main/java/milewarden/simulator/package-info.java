/**
 * Seeded synthetic tracks and campaigns whose true error is known: the oracle of the tests and the
 * source of the demo.
 *
 * <p>{@link milewarden.simulator.TrackSimulator} puts a {@link milewarden.simulator.Walk} (course,
 * laps, pace, stops, detours, wander), a {@link milewarden.simulator.Receiver} (what the device
 * does to positions and distance) and a {@link milewarden.simulator.Sky} (what all devices of an
 * outing share) together. In this order: the body's place on the line every tenth of a second;
 * wander and detour beside it; the wrist beside that; the smoothing filter; the filter that runs on
 * at turns; correlated and white noise, larger on noisy stretches; outliers; snapping; the file's
 * decimals. Late lock, gaps, auto-pause and smart recording leave fixes out. {@link
 * milewarden.simulator.Odometer} says how the device counts, {@link
 * milewarden.simulator.campaign.Display} how it shows, {@link milewarden.simulator.Faults} spoils a
 * file that is written. {@link milewarden.simulator.Truth} stands beside every fix.
 *
 * <p>Not simulated: slopes and heights, speed in the file, a clock that runs wrong, cold starts,
 * the sky's repetition from day to day.
 */
@NullMarked
package milewarden.simulator;

import org.jspecify.annotations.NullMarked;
