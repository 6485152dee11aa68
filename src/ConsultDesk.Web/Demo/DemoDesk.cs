using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Costs;
using ConsultDesk.Calculations.Findings;
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
    Firms firms, FirmLogos logos, FirmPrices prices, ClientBook clients, VanBook vans, VanOptions options, WishesBook wishes, PlanPress press, DemoConsults consults, AgendaTemplates agendas, UserManager<DeskUser> users)
{
    /// <summary>Address of the demo's only account (example.org is kept for examples by RFC 2606).</summary>
    public const string Email = "robin@fernhollow.example.org";

    /// <summary>Printed at every start; a demo listens on its own machine only.</summary>
    public const string Password = "kettle-on-fernhollow";

    /// <summary>The firm's colour, which its logo is drawn in.</summary>
    public const string Colour = "#1f5a52";

    /// <summary>Does nothing when any firm exists.</summary>
    public async Task FillIfEmptyAsync(CancellationToken cancellation = default)
    {
        if (!await firms.NoneYet(cancellation))
        {
            return;
        }

        var firmId = await firms.Found(new("Fernhollow Van Advice", Colour, "Robin Ashdown, robin@fernhollow.example.org", "EUR", UnitPreset.Metric), cancellation);
        var user = new DeskUser { UserName = Email, Email = Email, EmailConfirmed = true, FirmId = firmId, DisplayName = "Robin Ashdown", Role = DeskRole.Owner };
        var made = await users.CreateAsync(user, Password);
        if (!made.Succeeded)
        {
            throw new InvalidOperationException("The demo account was refused: " + string.Join(" ", made.Errors.Select(e => e.Description)));
        }

        var who = new SignedIn(firmId, user.Id, user.DisplayName, user.Role);
        var (png, width, height) = DemoLogo.Draw();
        await logos.Save(who, null, png, width, height, cancellation);
        await SettingsAsync(who, cancellation);
        await PricesAsync(who, cancellation);
        await DryBoxAsync(who, cancellation);
        await NorthAsync(who, cancellation);
        await CoastAsync(who, cancellation);
    }

    /// <summary>What its plans carry beside name and colour, and the agendas it goes by.</summary>
    private async Task SettingsAsync(SignedIn who, CancellationToken cancellation)
    {
        var firm = await firms.Mine(who, cancellation);
        await firms.Change(
            who,
            firm.Version,
            new(firm.Name, firm.BrandColour, firm.ContactLine, firm.Currency, firm.Units, firm.UnitChoices)
            {
                AnswerAddress = Email,
                TaxName = "VAT",
                TaxPercent = 20,
                Terms = "Fernhollow gives advice on what you told us and on what we saw on a screen. We do not build, and we do not supervise what others build.\n\n"
                    + "Prices are those of the day this plan was written. A second talk about this plan within thirty days is part of the fee.",
            },
            cancellation);
        await agendas.Add(who, new("First call", """
            What bothers them most, in their own words
            Walk round the van with the camera: roof, rear doors, floor, under the bed
            What is bought or cut already, with receipts or sizes
            Who builds, with which tools, until when
            What it may cost, and what it must not look like
            Agree on the next date, and on what they measure until then
            """), cancellation);
        await agendas.Add(who, new("After the first winter", """
            Which mornings were wet, and where
            What the hygrometer showed, and where it hung
            Look behind the mattress, into the cupboards, at the cab's glass
            What was really left open at night, and why not what the card says
            Fuel and gas used, against what was foretold
            What to change before the next winter
            """), cancellation);
        await agendas.Add(who, new("Before cutting", """
            Sizes measured twice by the client, with a photograph of the tape
            What lies behind each hole: ribs, wiring, tank, door track, airbags
            Bare edges, coating and sealing bought before the saw comes out
            Weather for the day, and how the hole is covered if it is not finished
            Gas, mains and heater are left to a licensed trade: who, and when
            """), cancellation);
    }

    /// <summary>The firm's own prices: what its fitters ask, and two things it buys in bulk.</summary>
    private async Task PricesAsync(SignedIn who, CancellationToken cancellation)
    {
        var loaded = await prices.Load(who, cancellation);
        var own = loaded.Book.Items.Select(item => item.Kind switch
        {
            PriceKind.RoofFan or PriceKind.RoofVent => item with { Fitting = item.Fitting + 25 },
            PriceKind.CarbonMonoxideAlarm => item with { Price = Math.Max(0, item.Price - 4) },
            _ => item,
        });
        await prices.Save(who, loaded.Version, new PriceBook([.. own]), cancellation);
    }

    /// <summary>Hot nights in a small van that nobody cooks in: an empty shell, much of its metal to stay bare.</summary>
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
            BuildStage = nameof(BuildStage.EmptyShell),
            Steel = nameof(SteelCondition.Bare),
        };
        var added = await AddAsync(who, form, "Climbs at weekends, sleeps in the van forty nights a year. Wants the smallest van that is bearable in July. Has bought a smoke alarm, sees no need for another.", AsTold(form.OptionA()), cancellation);
        await WishAsync(who, added.VanId, new Wishes
        {
            BudgetNow = 1800,
            BudgetLater = 600,
            MustHaves = ["Sleep through a July night on the plain", "Room for two ropes and a wet tent"],
            WontHaves = [WontHave.SecondRoofHole, WontHave.Gas],
            OtherWontHaves = ["No plastic panels"],
            LoudestAtBedDba = 45,
            Order = [Priority.Cool, Priority.Cheap, Priority.Simple, Priority.Dry, Priority.Warm, Priority.Looks],
            Looks = "Birch ply, everything screwed so that it comes out again.",
        }, cancellation);
        await consults.BareMetalAsync(who, added.VanId, cancellation);

        // His idea: line the walls, leave the doors and ribs bare, and no alarm for carbon monoxide beside the diesel heater.
        static Design AsTold(Design van) => Beds.With(van, BedBase.Solid) with
        {
            BareMetal =
            [
                .. van.BareMetal.Select(patch => patch.Id switch
                {
                    "metal-doors" => patch with { Name = "Bare rear doors", Area = Area.FromSquareMeters(1.8) },
                    "metal-ribs" => patch with { Area = Area.FromSquareMeters(0.9) },
                    _ => patch,
                }),
            ],
            Household = van.Household with { Presence = Presence.Nights },
            Equipment = van.Equipment with
            {
                SmokeAlarm = PartState.Owned,
                Extinguisher = PartState.Owned,
                Battery = BatteryKind.Lead,
                BatteryZoneId = "under-bed",
                BatteryUsable = Energy.FromKilowattHours(0.5),
                HeaterExhaust = new BodyPoint(Face.Floor, Length.FromMeters(2.2), Length.FromMeters(0.3), Length.Zero),
            },
        };
    }

    /// <summary>Two people and gas, a winter in deep frost ahead; the heater they have burns the cabin's air.</summary>
    private async Task NorthAsync(SignedIn who, CancellationToken cancellation)
    {
        var form = new NewVanForm
        {
            ClientName = "Aino and Pekka Rautala",
            Email = "rautala@example.org",
            VanName = "Snow Hare",
            BodyClass = "medium-high",
            Layout = nameof(Layout.FixedBedAcross),
            Place = "whitehorse",
            Month = "1",
            Sleepers = "2",
            CookingFuel = nameof(CookingFuel.Gas),
            CookingHabit = nameof(CookingHabit.Heavy),
            BuildStage = nameof(BuildStage.PartlyBuilt),
            Steel = nameof(SteelCondition.LightRust),
        };
        var start = form.OptionA();
        // A lithium battery without heating under the bed, where this winter is felt first.
        var design = CabDividers.With(start, CabDivider.Curtain) with
        {
            Heater = start.Heater with { Kind = HeaterKind.UnfluedGas, State = PartState.Owned },
            CabDividerState = PartState.Owned,
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
            },
        };
        // The hole for the fan is cut and the fan is in; the window still lies in its box.
        design = Openings.Change(design, Presets.RoofFanId, fan => fan with { State = PartState.Fitted });
        design = Openings.Change(design, Presets.WindowId, window => window with { State = PartState.Owned });
        var added = await AddAsync(who, form, "Own a gas heater without a flue and would like to keep it. Told on the phone: not while asleep.", design, cancellation);
        await WishAsync(who, added.VanId, new Wishes
        {
            BudgetNow = 2200,
            BudgetLater = 1500,
            MustHaves = ["Cook inside and dry ski clothes overnight", "Wake up warm at thirty degrees of frost"],
            WontHaves = [WontHave.SecondRoofHole, WontHave.AddedWindow],
            LoudestAtBedDba = 40,
            Order = [Priority.Warm, Priority.Dry, Priority.Simple, Priority.Cheap, Priority.Looks, Priority.Cool],
            Looks = "Spruce boards as in a sauna, if they dry.",
        }, cancellation);
        await consults.DeepFrostAsync(who, added.VanId, cancellation);

        // What the next call is about: the heater exchanged, and air that costs no battery in the deep frost.
        var flued = await options.Copy(who, added.OptionId, "A room-sealed heater", cancellation);
        var sealedIn = flued.Design with
        {
            Heater = flued.Design.Heater with { Kind = HeaterKind.RoomSealedLiquidFuel, RatedOutput = Power.FromKilowatts(4), State = PartState.Proposed },
            Equipment = flued.Design.Equipment with { HeaterExhaust = new BodyPoint(Face.Floor, Length.FromMeters(2.2), Length.FromMeters(0.3), Length.Zero) },
            BedBaseState = PartState.Later,
        };
        await SaveAsync(who, flued, sealedIn, "Room-sealed heater of 4 kW, its exhaust under the floor", cancellation);
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
            BuildStage = nameof(BuildStage.LivedIn),
            Steel = nameof(SteelCondition.Coated),
        };
        // Winters on the damp coast, spring by the open sea further south, summer and early autumn in the mountains.
        var start = form.OptionA();
        start = Beds.With(start, BedBase.Solid) with
        {
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
            },
        };
        var shut = Openings.SetPosition(Openings.Change(start, Presets.RoofFanId, o => o with { Fan = o.Fan! with { Speed = 0 } }), Presets.RoofFanId, Position.Shut);
        var added = await AddAsync(who, form, "Wet windows every morning, mould behind the mattress last winter. Afraid of losing the heat.", shut, cancellation);
        await WishAsync(who, added.VanId, new Wishes
        {
            BudgetNow = 700,
            BudgetLater = 900,
            MustHaves = ["Dry glass by breakfast", "No smell of mould in the bedding"],
            WontHaves = [WontHave.SecondRoofHole, WontHave.VisibleOutside],
            OtherWontHaves = ["No drilling into the new worktop"],
            LoudestAtBedDba = 35,
            Order = [Priority.Dry, Priority.Warm, Priority.Simple, Priority.Looks, Priority.Cheap, Priority.Cool],
            Looks = "White boards, brass, nothing that looks like a machine.",
        }, cancellation);
        await consults.FoggedAsync(who, added.VanId, cancellation);

        var aired = await options.Copy(who, added.OptionId, "A little air all night", cancellation);
        var design = Openings.Change(aired.Design, Presets.RoofFanId, o => o with { Fan = o.Fan! with { Speed = 0.1 } });
        design = Openings.SetPosition(Openings.SetPosition(design, Presets.RoofFanId, Position.Full), Presets.WindowId, Position.Half);
        // As the consultant would: the danger's own remedy, applied with its button.
        design = Assessor.Assess(design, cancellation).Findings.Single(f => f.Code == "gas-without-fixed-openings").Apply!(design);
        var saved = await SaveAsync(who, aired, design, "Fan at its lowest, window half open, fixed vents for the gas", cancellation);
        // Beside the years below, so that the first start takes no longer.
        var tonight = Task.Run(() => TonightTable.Of(design, YearWeather.Of(design), Assumptions.Likely, cancellation), cancellation);
        var own = await options.Load(who, added.OptionId, cancellation) ?? throw new RecordNotFoundException("option", added.OptionId);
        var idea = new AssessedOption(own, Assessor.Assess(own.Design, AssessmentDepth.Year, cancellation: cancellation));
        await press.PublishAsync(who, new(aired.Id, saved.Version, design, Assessor.Assess(design, AssessmentDepth.Year, cancellation: cancellation), Own: idea, Tonight: await tonight), cancellation);
    }

    private Task<LoadedWishes> WishAsync(SignedIn who, Guid vanId, Wishes wanted, CancellationToken cancellation) => wishes.Save(who, vanId, null, wanted, cancellation);

    private async Task<Saved> SaveAsync(SignedIn who, LoadedOption option, Design design, string label, CancellationToken cancellation) =>
        await options.Save(who, option.Id, option.Version, design, label, cancellation: cancellation) as Saved
        ?? throw new InvalidOperationException($"The demo's option \"{option.Name}\" was changed by somebody else while it was made.");

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
