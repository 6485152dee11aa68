using System.Globalization;
using ConsultDesk.Records;

namespace ConsultDesk.Web.Demo;

/// <summary>
/// Invented consults, decisions and follow-ups of the demo's vans, dated around the day of the first start, so that the
/// desk is alive whenever somebody opens it.
/// </summary>
internal sealed class DemoConsults(ConsultBook book, DecisionBook decisions, DeclinedAdviceBook declined, FollowUps followUps, TimeProvider time)
{
    /// <summary>An empty shell before its first consult but one: much is open.</summary>
    public async Task BareMetalAsync(SignedIn who, Guid van, CancellationToken cancellation)
    {
        await HeldAsync(who, van, -9, "18:00", "Europe/Madrid", """
            First call, camera walk round the empty van. Bare steel everywhere, two small rust spots by the rear lamp.
            Did not hear the question about alarms; ask again, gently.
            Budget is real: no second fan this year.
            """, cancellation);
        await PlannedAsync(who, van, 1, "17:30", "Europe/Madrid", "Bring: order of layers on bare steel, one low inlet against two.", cancellation);
        await DecideAsync(who, van, DecisionTopic.PeopleAndRoute, DecisionState.Decided, "One sleeper, forty nights a year, July in the plains", "Climbing weekends", "Tomasin", cancellation);
        await DecideAsync(who, van, DecisionTopic.AlreadyFixed, DecisionState.Decided, "Nothing is built in; the roof has no hole yet", "Bought as an empty delivery van", "Tomasin", cancellation);
        await DecideAsync(who, van, DecisionTopic.CookerSteam, DecisionState.Decided, "Nobody cooks inside", "A stove outside is enough for weekends", "Tomasin", cancellation);
        await DecideAsync(who, van, DecisionTopic.SteelAndWalls, DecisionState.Open, "Treat the two rust spots first; coating before any insulation", "Photographs are still to come", "", cancellation);
        await FollowUpAsync(who, van, -2, "Ask for photographs of the rust spots by the rear lamp", cancellation);
        await FollowUpAsync(who, van, 4, "Send the order of work: rust, coating, wiring, insulation, lining", cancellation);
    }

    /// <summary>Living in a van that fogs: nearly decided, a plan waits to be opened.</summary>
    public async Task FoggedAsync(SignedIn who, Guid van, CancellationToken cancellation)
    {
        await HeldAsync(who, van, -20, "10:00", "America/Los_Angeles", "Mould behind the mattress, cheek side. Sleeps badly when the fan is heard at all.", cancellation);
        await HeldAsync(who, van, -3, "09:30", "America/Los_Angeles", """
            Saw her own idea and ours side by side; the wet mornings convinced her, not the litres.
            Brother does the wiring: keep asking for a licensed electrician.
            """, cancellation);
        await PlannedAsync(who, van, 8, "09:30", "America/Los_Angeles", "", cancellation);
        await DecideAsync(who, van, DecisionTopic.PeopleAndRoute, DecisionState.Decided, "Two people all year: damp coast in winter, open sea in spring, mountains in summer", "Work comes along", "Ines", cancellation);
        await DecideAsync(who, van, DecisionTopic.AlreadyFixed, DecisionState.Decided, "Roof fan, side window, heater and walls are in and stay", "No more holes in the roof", "Ines", cancellation);
        await DecideAsync(who, van, DecisionTopic.AirInRain, DecisionState.Decided, "Fan at its lowest under its hood, window half open", "Both may stay open in rain", "Ines", cancellation);
        await DecideAsync(who, van, DecisionTopic.CookerSteam, DecisionState.Decided, "Lid on the pot, fan at half while it boils", "Costs nothing", "Ines", cancellation);
        await DecideAsync(who, van, DecisionTopic.CupboardsAndBed, DecisionState.Declined, "A slatted base with a ventilated underlay under the mattress", "The mattress is new and the height is used up", "Ines", cancellation);
        await DecideAsync(who, van, DecisionTopic.DangersAndAlarms, DecisionState.Decided, "Fixed vents for the gas, to be cut by a licensed gas fitter", "The cooker had none", "Ines", cancellation);
        await declined.Add(who, van, new(null, "A tight-edged cover outside the windscreen", "It must come off in one minute when somebody knocks", "Ines"), cancellation);
        await FollowUpAsync(who, van, 0, "Has the gas fitter given a date for the fixed vents?", cancellation);
        var done = await FollowUpAsync(who, van, -6, "Send the reading list for the hygrometer", cancellation);
        await followUps.MarkDone(who, done, (await followUps.Of(who, van, cancellation)).Single(row => row.Id == done).Version, cancellation);
    }

    /// <summary>A winter in deep frost is planned; the heater they own is the question.</summary>
    public async Task DeepFrostAsync(SignedIn who, Guid van, CancellationToken cancellation)
    {
        await HeldAsync(who, van, -5, "17:00", "America/Whitehorse", """
            He likes the heater he has, she does not. Let her speak first next time.
            They would pay for a room-sealed one if the fuel fits under the step.
            """, cancellation);
        await PlannedAsync(who, van, 0, "19:30", "America/Whitehorse", "", cancellation);
        await DecideAsync(who, van, DecisionTopic.PeopleAndRoute, DecisionState.Decided, "Two people, all day in the van, January to March in deep frost", "A winter of skiing in the far north", "Aino and Pekka", cancellation);
        await DecideAsync(who, van, DecisionTopic.HeatSource, DecisionState.Open, "Keep the heater without a flue for mornings, or a room-sealed one?", "", "", cancellation);
        await DecideAsync(who, van, DecisionTopic.CabGlass, DecisionState.Decided, "Insulated curtain behind the seats every night", "The cab is given up in deep frost", "Aino", cancellation);
        await DecideAsync(who, van, DecisionTopic.PowerAndRoof, DecisionState.Declined, "A battery with its own heating", "The one they have is a year old", "Pekka", cancellation);
        await declined.Add(who, van, new("alarms-needed", "A second carbon monoxide alarm in the cab", "One is enough for them", "Pekka"), cancellation);
        await FollowUpAsync(who, van, -1, "Ask the maker at which temperature the battery may be charged", cancellation);
        await FollowUpAsync(who, van, 12, "Before the first frost night: has a licensed trade looked at the heater?", cancellation);
    }

    private async Task HeldAsync(SignedIn who, Guid van, int days, string at, string zone, string notes, CancellationToken cancellation)
    {
        var id = await PlannedAsync(who, van, days, at, zone, notes, cancellation);
        await book.MarkHeld(who, id, (await book.Consult(who, id, cancellation))!.Version, cancellation);
    }

    private async Task<Guid> PlannedAsync(SignedIn who, Guid van, int days, string at, string zone, string notes, CancellationToken cancellation)
    {
        var id = await book.Add(who, van, new(Day(days, zone), TimeOnly.ParseExact(at, "HH:mm", CultureInfo.InvariantCulture), 60, zone), cancellation);
        if (notes.Length > 0)
        {
            await book.SaveNotes(who, id, (await book.Consult(who, id, cancellation))!.Version, notes, cancellation);
        }

        return id;
    }

    private async Task DecideAsync(
        SignedIn who, Guid van, DecisionTopic topic, DecisionState state, string what, string why, string by, CancellationToken cancellation)
    {
        if (await decisions.Save(who, van, topic, null, new(state, what, why, by), cancellation) is not DecisionSaved)
        {
            throw new InvalidOperationException($"The demo's decision on {topic} was made by somebody else while it was made.");
        }
    }

    private Task<Guid> FollowUpAsync(SignedIn who, Guid van, int days, string text, CancellationToken cancellation) =>
        followUps.Add(who, van, new(Day(days, "UTC"), text), cancellation);

    private DateOnly Day(int days, string zone) =>
        DateOnly.FromDateTime(TimeZoneInfo.ConvertTimeFromUtc(time.GetUtcNow().UtcDateTime, ConsultBook.Zone(zone)!)).AddDays(days);
}
