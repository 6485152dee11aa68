using System.Collections.Immutable;
using System.Globalization;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Search;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Unknowns;

/// <summary>What nobody measured about a design, with how far each can lie off. docs/method/worth-asking.md.</summary>
public static class UnknownInputs
{
    /// <summary>
    /// The unknowns of a design: its inputs that are assumed or told and that a calculation or a rule depends on, then the assumed values nobody
    /// can be asked for. What was measured is not among them, nor what would be wrong at both its ends.
    /// </summary>
    /// <param name="design">A valid design.</param>
    public static ImmutableArray<Unknown> Of(Design design)
    {
        ArgumentNullException.ThrowIfNull(design);
        Design now = LaterParts.Without(design);
        Listing listing = new(now);
        listing.Household();
        listing.Place();
        listing.Body();
        listing.Openings();
        listing.GlassAndMetal();
        listing.HeaterAndInside();
        listing.Aboard();
        listing.AssumedValues();
        return [.. listing.Found.Select(unknown => Possible(now, unknown)).Where(unknown => unknown.ChanceLow > 0 || unknown.ChanceHigh > 0)];
    }

    // An end the checks of a design refuse cannot be true: it is no end. Both chances fall away with it.
    private static Unknown Possible(Design design, Unknown unknown) => unknown with
    {
        ChanceLow = unknown.ChanceLow > 0 && IsPossible(design, unknown, BandEnd.Low) ? unknown.ChanceLow : 0,
        Low = unknown.ChanceLow > 0 && IsPossible(design, unknown, BandEnd.Low) ? unknown.Low : null,
        ChanceHigh = unknown.ChanceHigh > 0 && IsPossible(design, unknown, BandEnd.High) ? unknown.ChanceHigh : 0,
        High = unknown.ChanceHigh > 0 && IsPossible(design, unknown, BandEnd.High) ? unknown.High : null,
    };

    private static bool IsPossible(Design design, Unknown unknown, BandEnd end) =>
        DesignCheck.Errors(unknown.Move(design, end == BandEnd.Low ? -1 : 1).Design).IsEmpty;

    private sealed class Listing(Design design)
    {
        private readonly ImmutableHashSet<string> _facts = [.. InputCatalogue.Of(design).Select(fact => fact.Path)];

        public List<Unknown> Found { get; } = [];

        public void Household()
        {
            if (design.Household.Sleepers == 0)
            {
                return;
            }

            Steps("sleepers", "sleepers", "household.sleepers", design.Household.Sleepers, (van, value) => With(van, household => household with { Sleepers = value }));
            Steps("animals", "animals aboard", "household.animals", design.Household.Animals, (van, value) => With(van, household => household with { Animals = value }));
            Steps("presence", "when people are in the van", "household.presence", design.Household.Presence, (van, value) => With(van, household => household with { Presence = value }));
            Choices("cooking-fuel", "what is cooked with", ["household.cookingFuel"], design.Household.CookingFuel, (van, value) => With(van, household => household with { CookingFuel = value }));
            if (design.Household.CookingFuel != CookingFuel.None)
            {
                Steps("cooking-habit", "steam from cooking", "household.cookingHabit", design.Household.CookingHabit, (van, value) => With(van, household => household with { CookingHabit = value }));
            }

            Steps("showers", "showers in the van", "household.showersPerDay", design.Household.ShowersPerDay, (van, value) => With(van, household => household with { ShowersPerDay = value }));
            Steps("hot-drinks", "hot drinks a day", "household.hotDrinksPerDay", design.Household.HotDrinksPerDay, (van, value) => With(van, household => household with { HotDrinksPerDay = value }));
            Toggle("dries-clothes", "wet clothes drying in the van", "household.driesClothes", design.Household.DriesClothes, (van, value) => With(van, household => household with { DriesClothes = value }));
            Toggle("washes-up", "washing up in the van", "household.washesUpInside", design.Household.WashesUpInside, (van, value) => With(van, household => household with { WashesUpInside = value }));
            Toggle("wet-firewood", "wet firewood in the van", "household.wetFirewoodInside", design.Household.WetFirewoodInside, (van, value) => With(van, household => household with { WetFirewoodInside = value }));
        }

        public void Place()
        {
            if (design.Itinerary.IsEmpty)
            {
                Steps("shelter", "shelter from the wind", "stop.shelter", design.Stop.Shelter, (van, value) => van with { Stop = van.Stop with { Shelter = value } }, movesShelter: true);
            }
        }

        public void Body()
        {
            Number("leakage-area", null, "leakage of the body", "leakage.effectiveAreaM2", design.Leakage.EffectiveArea.SquareMeters, value => Area.FromSquareMeters(value),
                (van, value) => van with { Leakage = van.Leakage with { EffectiveArea = Area.FromSquareMeters(value) } });
            foreach ((string part, LayeredAssembly assembly, Func<Design, LayeredAssembly, Design> with) in Assemblies())
            {
                SolidLayer? thickest = assembly.Layers.OfType<SolidLayer>()
                    .Where(layer => SingleChanges.Insulates(layer.Material))
                    .OrderByDescending(layer => layer.Thickness.Meters).ThenBy(layer => layer.Id, StringComparer.Ordinal).FirstOrDefault();
                if (thickest is not null)
                {
                    Number("insulation-thickness", part, $"insulation of the {part}", $"{part}.layers[{thickest.Id}].thicknessM", thickest.Thickness.Meters, value => Length.FromMeters(value),
                        (van, value) => with(van, Thick(Of(van, part), thickest.Id, value)));
                }

                Steps("lining-gaps", part, $"gaps of the lining of the {part}", part + ".gaps", assembly.Gaps, (van, value) => with(van, Of(van, part) with { Gaps = value }));
            }
        }

        public void Openings()
        {
            foreach (Opening opening in design.Openings)
            {
                string path = $"openings[{opening.Id}]";
                Design Change(Design van, Func<Opening, Opening> change) => Vehicle.Openings.Change(van, opening.Id, change);
                // No frame lets more through than all of it.
                Number("free-share", opening.Id, $"free share of {opening.Name}", path + ".freeShare", opening.FreeShare, value => value,
                    (van, value) => Change(van, old => old with { FreeShare = value }), most: 1);
                Toggle("covered", opening.Id, $"cover over {opening.Name}", path + ".covered", opening.Covered, (van, value) => Change(van, old => old with { Covered = value }));
                if (opening.Fan is Fan fan)
                {
                    Number("fan-flow", opening.Id, $"free-air flow of {opening.Name}", path + ".fan.freeAirFlowM3PerS", fan.FreeAirFlow.CubicMetersPerSecond, value => VolumeFlow.FromCubicMetersPerSecond(value),
                        (van, value) => Change(van, old => old with { Fan = old.Fan! with { FreeAirFlow = VolumeFlow.FromCubicMetersPerSecond(value) } }));
                }
            }
        }

        public void GlassAndMetal()
        {
            foreach (Glazing glazing in design.Glazings)
            {
                Design Change(Design van, Func<Glazing, Glazing> change) =>
                    van with { Glazings = [.. van.Glazings.Select(other => other.Id == glazing.Id ? change(other) : other)] };
                string path = $"glazings[{glazing.Id}]";
                Number("glass-area", glazing.Id, $"area of {glazing.Name}", path + ".areaM2", glazing.Area.SquareMeters, value => Area.FromSquareMeters(value),
                    (van, value) => Change(van, old => old with { Area = Area.FromSquareMeters(value) }));
                Choices("glass-kind", glazing.Id, $"glass of {glazing.Name}", path + ".pane.glass", glazing.Pane.Glass,
                    (van, value) => Change(van, old => old with { Pane = old.Pane with { Glass = value } }));
                if (glazing.Pane.Cover is Cover.InsideLoose or Cover.InsideTight)
                {
                    Choices("glass-cover", glazing.Id, $"cover of {glazing.Name}", path + ".pane.cover", glazing.Pane.Cover,
                        (van, value) => Change(van, old => old with { Pane = old.Pane with { Cover = value } }));
                }
            }

            foreach (MetalPatch patch in design.BareMetal)
            {
                Number("metal-area", patch.Id, $"area of {patch.Name}", $"bareMetal[{patch.Id}].areaM2", patch.Area.SquareMeters, value => Area.FromSquareMeters(value),
                    (van, value) => van with { BareMetal = [.. van.BareMetal.Select(other => other.Id == patch.Id ? other with { Area = Area.FromSquareMeters(value) } : other)] });
            }
        }

        public void HeaterAndInside()
        {
            if (design.Heater.Kind != HeaterKind.None)
            {
                Number("night-temperature", null, "temperature kept by night", "heater.nightSetPointC", design.Heater.NightSetPoint.DegreesCelsius, value => Temperature.FromDegreesCelsius(value),
                    (van, value) => van with { Heater = van.Heater with { NightSetPoint = Temperature.FromDegreesCelsius(value) } });
                Toggle("heated-when-away", "heat in the empty van", "heater.runsWhenAway", design.Heater.RunsWhenAway, (van, value) => van with { Heater = van.Heater with { RunsWhenAway = value } });
                Number("heater-output", null, "rated output of the heater", "heater.ratedOutputW", (double)design.Heater.RatedOutput.Watts, value => Power.FromWatts(value),
                    (van, value) => van with { Heater = van.Heater with { RatedOutput = Power.FromWatts(value) } });
                Choices("heater-kind", "kind of heater", ["heater.kind"], design.Heater.Kind, (van, value) => van with { Heater = van.Heater with { Kind = value } });
            }

            Steps("bed-base", "what is under the mattress", "bedBase", design.BedBase, Beds.With);
            if (CabDividers.Possible(design))
            {
                Steps("cab-divider", "what hangs between cab and room", "cabDivider", design.CabDivider, CabDividers.With);
            }
        }

        public void Aboard()
        {
            Choices("steel", "steel behind the lining", ["equipment.steel"], design.Equipment.Steel, (van, value) => Has(van, equipment => equipment with { Steel = value }));
            Alarm("carbon-monoxide-alarm", "carbon monoxide alarm", "equipment.carbonMonoxideAlarm", design.Equipment.CarbonMonoxideAlarm, (equipment, state) => equipment with { CarbonMonoxideAlarm = state });
            Alarm("smoke-alarm", "smoke alarm", "equipment.smokeAlarm", design.Equipment.SmokeAlarm, (equipment, state) => equipment with { SmokeAlarm = state });
            Alarm("gas-alarm", "gas alarm near the floor", "equipment.lowGasAlarm", design.Equipment.LowGasAlarm, (equipment, state) => equipment with { LowGasAlarm = state });
            Alarm("extinguisher", "fire extinguisher", "equipment.extinguisher", design.Equipment.Extinguisher, (equipment, state) => equipment with { Extinguisher = state });
            Steps("ways-out", "ways out of the bed", "equipment.waysOutOfBed", design.Equipment.WaysOutOfBed, (van, value) => Has(van, equipment => equipment with { WaysOutOfBed = value }));
            Toggle("gas-bottles", "gas bottles aboard", "equipment.gasBottles", design.Equipment.GasBottles, (van, value) => Has(van, equipment => equipment with { GasBottles = value }));
            if (design.Equipment.GasBottles)
            {
                Toggle("gas-locker", "gas locker open to the living space", "equipment.gasLockerOpensInside", design.Equipment.GasLockerOpensInside, (van, value) => Has(van, equipment => equipment with { GasLockerOpensInside = value }));
            }

            Toggle("wood-stove", "wood stove", "equipment.woodStove", design.Equipment.WoodStove, (van, value) => Has(van, equipment => equipment with { WoodStove = value }));
            Toggle("cooker-for-warmth", "the cooker used for warmth", "equipment.cookerUsedForWarmth", design.Equipment.CookerUsedForWarmth, (van, value) => Has(van, equipment => equipment with { CookerUsedForWarmth = value }));
            Toggle("left-in-locked-van", "somebody left in the locked van", "equipment.leftInLockedVan", design.Equipment.LeftInLockedVan, (van, value) => Has(van, equipment => equipment with { LeftInLockedVan = value }));
            Toggle("roof-not-cleared", "snow left on the roof", "equipment.roofNotCleared", design.Equipment.RoofNotCleared, (van, value) => Has(van, equipment => equipment with { RoofNotCleared = value }));
        }

        public void AssumedValues()
        {
            foreach (Passage passage in design.Passages)
            {
                string path = $"passages[{passage.Id}].mixingM3PerS";
                if (Vehicle.Origins.Of(design, path) == Origin.Measured || HeadlineBands.MixingRow(design, passage) is not string row)
                {
                    continue;
                }

                AssumedValue value = Defaults.Get(row);
                VolumeFlow At(double perHour) => VolumeFlow.FromCubicMetersPerHour(perHour);
                Design Set(Design van, double perHour) => van with
                {
                    Passages = [.. van.Passages.Select(other => other.Id == passage.Id ? other with { Mixing = At(perHour) } : other)],
                };
                Found.Add(new Unknown
                {
                    Key = $"mixing[{passage.Id}]",
                    Name = $"mixing through {passage.Name}",
                    Question = "",
                    Paths = [path],
                    Origin = Vehicle.Origins.Of(design, path),
                    Low = At(value.Low),
                    Likely = passage.Mixing,
                    High = At(value.High),
                    Source = value.Source,
                    Continuous = true,
                    ChanceLow = (value.Likely - value.Low) / (value.High - value.Low),
                    ChanceHigh = (value.High - value.Likely) / (value.High - value.Low),
                    // In a van whose divider or bed was moved first the passage has another row.
                    Move = (van, share) => (
                        share != 0 && HeadlineBands.MixingRow(van, van.Passages.First(other => other.Id == passage.Id)) is string moved
                            ? Set(van, Defaults.Get(moved).Between(share))
                            : van,
                        Assumptions.Likely),
                    Set = (van, answer) => Set(van, ((VolumeFlow)answer).CubicMetersPerHour),
                });
            }

            foreach ((string key, string name, ImmutableArray<string> rows) in HeadlineBands.AssumedRows)
            {
                Found.Add(new Unknown
                {
                    Key = key,
                    Name = name,
                    Question = "",
                    Paths = [],
                    Origin = Origin.Assumed,
                    Source = "the table of assumed values",
                    Continuous = true,
                    ChanceLow = 0.5,
                    ChanceHigh = 0.5,
                    Rows = rows,
                    Move = (van, share) => (van, rows.Aggregate(Assumptions.Likely, (assumed, row) => assumed.With(row, Defaults.Get(row).Between(share)))),
                });
            }
        }

        private IEnumerable<(string Part, LayeredAssembly Assembly, Func<Design, LayeredAssembly, Design> With)> Assemblies() =>
        [
            ("walls", design.Walls, (van, assembly) => van with { Walls = assembly }),
            ("roof", design.Roof, (van, assembly) => van with { Roof = assembly }),
            ("floor", design.Floor, (van, assembly) => van with { Floor = assembly }),
        ];

        private static LayeredAssembly Of(Design van, string part) => part switch
        {
            "walls" => van.Walls,
            "roof" => van.Roof,
            "floor" => van.Floor,
            _ => throw new ArgumentOutOfRangeException(nameof(part), part, "Expected walls, roof or floor."),
        };

        private static LayeredAssembly Thick(LayeredAssembly assembly, string id, double thicknessM) => assembly with
        {
            Layers = [.. assembly.Layers.Select(layer => layer.Id == id && layer is SolidLayer solid ? solid with { Thickness = Length.FromMeters(thicknessM) } : layer)],
        };

        private static Design With(Design van, Func<Household, Household> change) => van with { Household = change(van.Household) };

        private static Design Has(Design van, Func<Equipment, Equipment> change) => van with { Equipment = change(van.Equipment) };

        private static double Between(double low, double likely, double high, double share) =>
            share < 0 ? likely - (share * (low - likely)) : likely + (share * (high - likely));

        private static string Keyed(string key, string? id) => id is null ? key : $"{key}[{id}]";

        // A fact the catalogue has and nobody measured, with the ends its origin leaves; null for the rest.
        private (UnknownRange Range, RangeEnds Ends, Origin Origin)? Row(string key, string path)
        {
            UnknownRange range = UnknownRange.Get(key);
            Origin origin = Vehicle.Origins.Of(design, path);
            return _facts.Contains(path) && range.Of(origin) is RangeEnds ends ? (range, ends, origin) : null;
        }

        private void Number(
            string key, string? id, string name, string path, double now, Func<double, object> value, Func<Design, double, Design> set, double most = double.PositiveInfinity)
        {
            if (Row(key, path) is not var (range, ends, origin))
            {
                return;
            }

            double End(string cell) => Math.Min(most, range.Kind switch
            {
                RangeKind.Factor => now * double.Parse(cell, CultureInfo.InvariantCulture),
                RangeKind.Add => now + double.Parse(cell, CultureInfo.InvariantCulture),
                _ => throw new InvalidOperationException($"unknowns.csv has {key} as {range.Kind}; a number needs a factor or an addition."),
            });
            double low = End(ends.Low);
            double high = End(ends.High);
            double width = high - low;
            Found.Add(new Unknown
            {
                Key = Keyed(key, id),
                Name = name,
                Question = range.Question,
                Paths = [path],
                Origin = origin,
                Low = value(low),
                Likely = value(now),
                High = value(high),
                Source = range.Source,
                Continuous = true,
                ChanceLow = width > 0 ? Math.Max(0, now - low) / width : 0,
                ChanceHigh = width > 0 ? Math.Max(0, high - now) / width : 0,
                WeighsInAir = range.WeighsInAir,
                Move = (van, share) => (share == 0 ? van : set(van, Between(low, now, high, share)), Assumptions.Likely),
                Set = (van, answer) => set(van, SiOf(answer)),
            });
        }

        private static double SiOf(object answer) => answer switch
        {
            Area area => area.SquareMeters,
            Length length => length.Meters,
            VolumeFlow flow => flow.CubicMetersPerSecond,
            Power power => (double)power.Watts,
            Temperature temperature => temperature.DegreesCelsius,
            double share => share,
            _ => throw new ArgumentException($"An answer of {answer.GetType().Name} is not known here.", nameof(answer)),
        };

        private void Steps<T>(string key, string name, string path, T now, Func<Design, T, Design> set, bool movesShelter = false)
            where T : struct => Steps(key, null, name, path, now, set, movesShelter);

        private void Steps<T>(string key, string? id, string name, string path, T now, Func<Design, T, Design> set, bool movesShelter = false)
            where T : struct
        {
            if (Row(key, path) is not var (range, ends, origin))
            {
                return;
            }

            T? At(string cell)
            {
                int step = int.Parse(cell, CultureInfo.InvariantCulture);
                int there = Convert.ToInt32(now, CultureInfo.InvariantCulture) + step;
                return step == 0 || there < 0 || (typeof(T).IsEnum && !Enum.IsDefined(typeof(T), there))
                    ? null
                    : typeof(T).IsEnum ? (T)Enum.ToObject(typeof(T), there) : (T)(object)there;
            }

            Add(key, id, name, [path], (range, ends, origin), now, At(ends.Low), At(ends.High), set, movesShelter);
        }

        private void Choices<T>(string key, string name, ImmutableArray<string> paths, T now, Func<Design, T, Design> set)
            where T : struct, Enum => Choices(key, null, name, paths[0], now, set);

        private void Choices<T>(string key, string? id, string name, string path, T now, Func<Design, T, Design> set)
            where T : struct, Enum
        {
            if (Row(key, path) is not var (range, ends, origin))
            {
                return;
            }

            T? At(string cell) => cell == "0" || Enum.Parse<T>(cell) is var other && EqualityComparer<T>.Default.Equals(other, now) ? null : Enum.Parse<T>(cell);
            Add(key, id, name, [path], (range, ends, origin), now, At(ends.Low), At(ends.High), set, movesShelter: false);
        }

        // What is not so may be so, and what is so may not be.
        private void Toggle(string key, string name, string path, bool now, Func<Design, bool, Design> set) => Toggle(key, null, name, path, now, set);

        private void Toggle(string key, string? id, string name, string path, bool now, Func<Design, bool, Design> set)
        {
            if (Row(key, path) is var (range, ends, origin))
            {
                Add(key, id, name, [path], (range, ends, origin), now, null, ends.High == "0" ? null : !now, set, movesShelter: false);
            }
        }

        private void Alarm(string key, string name, string path, PartState? now, Func<Equipment, PartState?, Equipment> set)
        {
            // One that is proposed or comes later is a choice.
            if (now is null or PartState.Fitted or PartState.Owned && Row(key, path) is var (range, ends, origin))
            {
                Add(key, null, name, [path], (range, ends, origin), now is not null, null, ends.High == "0" ? null : (bool?)(now is null),
                    (van, there) => Has(van, equipment => set(equipment, there ? PartState.Fitted : null)), movesShelter: false);
            }
        }

        private void Add<T>(
            string key, string? id, string name, ImmutableArray<string> paths, (UnknownRange Range, RangeEnds Ends, Origin Origin) row,
            T now, T? low, T? high, Func<Design, T, Design> set, bool movesShelter)
            where T : struct => Found.Add(new Unknown
            {
                Key = Keyed(key, id),
                Name = name,
                Question = row.Range.Question,
                Paths = paths,
                Origin = row.Origin,
                Low = low,
                Likely = now,
                High = high,
                Source = row.Range.Source,
                Continuous = false,
                ChanceLow = low is null ? 0 : row.Ends.ChanceLow ?? 0,
                ChanceHigh = high is null ? 0 : row.Ends.ChanceHigh ?? 0,
                WeighsInAir = row.Range.WeighsInAir,
                MovesShelter = movesShelter,
                Move = (van, share) => (share < 0 && low is T less ? set(van, less) : share > 0 && high is T more ? set(van, more) : van, Assumptions.Likely),
                Set = (van, answer) => set(van, (T)answer),
            });
    }
}
