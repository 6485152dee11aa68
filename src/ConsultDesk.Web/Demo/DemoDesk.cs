using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using ConsultDesk.Records;
using ConsultDesk.Web.Clients;
using ConsultDesk.Web.Plans;
using Microsoft.AspNetCore.Identity;
using UnitsNet;

namespace ConsultDesk.Web.Demo;

/// <summary>
/// An invented firm with invented clients, made on the first start of a demo by the same commands the pages use.
/// </summary>
internal sealed class DemoDesk(
    Firms firms, ClientBook clients, VanBook vans, VanOptions options, PlanPress press, DemoConsults consults, UserManager<DeskUser> users)
{
    /// <summary>Address of the demo's only account (example.org is kept for examples by RFC 2606).</summary>
    public const string Email = "robin@fernhollow.example.org";

    /// <summary>Printed at every start; a demo listens on its own machine only.</summary>
    public const string Password = "kettle-on-fernhollow";

    /// <summary>Does nothing when any firm exists.</summary>
    public async Task FillIfEmptyAsync(CancellationToken cancellation = default)
    {
        if (!await firms.NoneYet(cancellation))
        {
            return;
        }

        var firmId = await firms.Found(new("Fernhollow Van Advice", "#1f5a52", "Robin Ashdown, robin@fernhollow.example.org", "EUR", UnitPreset.Metric), cancellation);
        var user = new DeskUser { UserName = Email, Email = Email, EmailConfirmed = true, FirmId = firmId, DisplayName = "Robin Ashdown", Role = DeskRole.Owner };
        var made = await users.CreateAsync(user, Password);
        if (!made.Succeeded)
        {
            throw new InvalidOperationException("The demo account was refused: " + string.Join(" ", made.Errors.Select(e => e.Description)));
        }

        var who = new SignedIn(firmId, user.Id, user.DisplayName, user.Role);
        await DryBoxAsync(who, cancellation);
        await NorthAsync(who, cancellation);
        await CoastAsync(who, cancellation);
    }

    /// <summary>Hot nights in a small van that nobody cooks in.</summary>
    private async Task DryBoxAsync(SignedIn who, CancellationToken cancellation)
    {
        var form = new NewVanForm
        {
            ClientName = "Tomasin Vale",
            Email = "tomasin@vale.example.org",
            VanName = "Little Wren",
            BodyClass = "compact-medium",
            Layout = nameof(Layout.FrontLounge),
            Place = "madrid",
            Month = "7",
            Sleepers = "1",
            CookingFuel = nameof(CookingFuel.None),
            CookingHabit = nameof(CookingHabit.Light),
        };
        var added = await AddAsync(who, form, "Climbs at weekends, sleeps in the van forty nights a year. Wants the smallest van that is bearable in July. Has a smoke alarm, sees no need for another.", WithEquipment(form.OptionA()), cancellation);
        await consults.BareMetalAsync(who, added.VanId, cancellation);

        // A diesel heater and no alarm for carbon monoxide.
        static Design WithEquipment(Design van) => Beds.With(van, BedBase.Solid) with
        {
            BuildStage = BuildStage.EmptyShell,
            Household = van.Household with { Presence = Presence.Nights },
            Equipment = van.Equipment with
            {
                SmokeAlarm = PartState.Fitted,
                Extinguisher = PartState.Fitted,
                Battery = BatteryKind.Lead,
                BatteryZoneId = "under-bed",
                BatteryUsable = Energy.FromKilowattHours(0.5),
                HeaterExhaust = new BodyPoint(Face.Floor, Length.FromMeters(2.2), Length.FromMeters(0.3), Length.Zero),
                Steel = SteelCondition.Bare,
            },
        };
    }

    /// <summary>Two people and gas in a cold winter; the heater they have burns the cabin's air.</summary>
    private async Task NorthAsync(SignedIn who, CancellationToken cancellation)
    {
        var form = new NewVanForm
        {
            ClientName = "Aino and Pekka Rautala",
            Email = "rautala@example.org",
            VanName = "Snow Hare",
            BodyClass = "medium-high",
            Layout = nameof(Layout.FixedBedAcross),
            Place = "helsinki-vantaa",
            Month = "1",
            Sleepers = "2",
            CookingFuel = nameof(CookingFuel.Gas),
            CookingHabit = nameof(CookingHabit.Heavy),
        };
        var start = form.OptionA();
        // A lithium battery without heating under the bed, where this winter is felt first.
        var design = CabDividers.With(start, CabDivider.Curtain) with
        {
            BuildStage = BuildStage.PartlyBuilt,
            Heater = start.Heater with { Kind = HeaterKind.UnfluedGas },
            Household = start.Household with { Presence = Presence.AllDay, DriesClothes = true },
            Equipment = start.Equipment with
            {
                CarbonMonoxideAlarm = PartState.Fitted,
                SmokeAlarm = PartState.Fitted,
                LowGasAlarm = PartState.Fitted,
                Extinguisher = PartState.Fitted,
                Battery = BatteryKind.Lithium,
                BatteryZoneId = "under-bed",
                BatteryUsable = Energy.FromKilowattHours(1.2),
                WaterCarried = true,
                WaterZoneId = "under-bed",
                Steel = SteelCondition.LightRust,
            },
        };
        var added = await AddAsync(who, form, "Own a gas heater without a flue and would like to keep it. Told on the phone: not while asleep.", design, cancellation);
        await consults.DeepFrostAsync(who, added.VanId, cancellation);
    }

    /// <summary>A damp winter coast: shut tight against the cold in option A, a little air in option B, published.</summary>
    private async Task CoastAsync(SignedIn who, CancellationToken cancellation)
    {
        var form = new NewVanForm
        {
            ClientName = "Ines Calloway",
            Email = "ines@calloway.example.org",
            VanName = "The Heron",
            BodyClass = "long-high",
            Layout = nameof(Layout.RearPlatformBed),
            Place = "port-angeles-olympic-peninsula",
            Month = "1",
            Sleepers = "2",
            CookingFuel = nameof(CookingFuel.Gas),
            CookingHabit = nameof(CookingHabit.Everyday),
        };
        // Winters on the damp coast, spring by the open sea further south, summer and early autumn in the mountains.
        var start = form.OptionA();
        start = start with
        {
            BuildStage = BuildStage.LivedIn,
            Itinerary =
            [
                Stay("winter", "port-angeles-olympic-peninsula", Shelter.Ordinary, new MonthDay(10, 16), new MonthDay(4, 15)),
                Stay("spring", "san-francisco-sfo", Shelter.Exposed, new MonthDay(4, 16), new MonthDay(6, 30)),
                Stay("summer", "bozeman", Shelter.Sheltered, new MonthDay(7, 1), new MonthDay(10, 15)),
            ],
            Equipment = start.Equipment with
            {
                CarbonMonoxideAlarm = PartState.Fitted,
                SmokeAlarm = PartState.Fitted,
                LowGasAlarm = PartState.Fitted,
                Extinguisher = PartState.Fitted,
                WaysOutOfBed = 2,
                Battery = BatteryKind.HeatedLithium,
                BatteryZoneId = "under-bed",
                BatteryUsable = Energy.FromKilowattHours(2.4),
                HeaterExhaust = new BodyPoint(Face.Floor, Length.FromMeters(2.2), Length.FromMeters(0.3), Length.Zero),
                HeaterRatedAltitude = Length.FromMeters(1500),
                WaterCarried = true,
                WaterZoneId = "under-bed",
                Steel = SteelCondition.Coated,
            },
        };
        var shut = Openings.SetPosition(Openings.Change(start, Presets.RoofFanId, o => o with { Fan = o.Fan! with { Speed = 0 } }), Presets.RoofFanId, Position.Shut);
        var added = await AddAsync(who, form, "Wet windows every morning, mould behind the mattress last winter. Afraid of losing the heat.", shut, cancellation);

        await consults.FoggedAsync(who, added.VanId, cancellation);

        var aired = await options.Copy(who, added.OptionId, "A little air all night", cancellation);
        var design = Openings.Change(aired.Design, Presets.RoofFanId, o => o with { Fan = o.Fan! with { Speed = 0.1 } });
        design = Openings.SetPosition(Openings.SetPosition(design, Presets.RoofFanId, Position.Full), Presets.WindowId, Position.Half);
        // As the consultant would: the danger's own remedy, applied with its button.
        design = Assessor.Assess(design, cancellation).Findings.Single(f => f.Code == "gas-without-fixed-openings").Apply!(design);
        if (await options.Save(who, aired.Id, aired.Version, design, "Fan at its lowest, window half open, fixed vents for the gas", cancellation: cancellation) is not Saved saved)
        {
            throw new InvalidOperationException("The demo's option B was changed by somebody else while it was made.");
        }

        var own = await options.Load(who, added.OptionId, cancellation) ?? throw new RecordNotFoundException("option", added.OptionId);
        var idea = new AssessedOption(own, Assessor.Assess(own.Design, AssessmentDepth.Year, cancellation: cancellation));
        await press.PublishAsync(who, new(aired.Id, saved.Version, design, Assessor.Assess(design, AssessmentDepth.Year, cancellation: cancellation), Own: idea), cancellation);
    }

    private static ItineraryStop Stay(string id, string place, Shelter shelter, MonthDay from, MonthDay to) => new()
    {
        Id = id,
        PlaceKey = place,
        Altitude = ClimateTable.Get(place).Elevation,
        Shelter = shelter,
        From = from,
        To = to,
    };

    private async Task<AddedVan> AddAsync(SignedIn who, NewVanForm form, string notes, Design optionA, CancellationToken cancellation)
    {
        if (form.Errors(withClient: true) is { Count: > 0 } errors)
        {
            throw new InvalidOperationException("The demo's own input was refused: " + string.Join(" ", errors.Select(e => $"{e.Key}: {e.Value}")));
        }

        var clientId = await clients.AddClient(who, form.Client() with { Notes = notes }, cancellation);
        return await vans.AddVan(who, clientId, form.Van(), NewVanForm.OptionName, optionA, cancellation);
    }
}
