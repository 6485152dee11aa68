using System.Collections.Immutable;
using ConsultDesk.Calculations.Envelope;
using UnitsNet;

namespace ConsultDesk.Calculations.Vehicle;

/// <summary>One fact a design rests on: something that is so, whatever is proposed.</summary>
/// <param name="Path">Where it stands, in the words of the stored text, for example <c>openings[roof-fan].lengthM</c>.</param>
/// <param name="Group">The part of the form it stands in.</param>
/// <param name="Label">What it is, in plain words.</param>
/// <param name="Value">A quantity, a whole number, a plain number, an enum value, true or false, a text; null when it is not known.</param>
/// <param name="Origin">Where the value comes from.</param>
public sealed record InputFact(string Path, string Group, string Label, object? Value, Origin Origin);

/// <summary>
/// The facts of a design in the order of the form. What is proposed or comes later is a choice and no fact; the same
/// part is one once it is fitted or owned.
/// </summary>
public static class InputCatalogue
{
    /// <summary>The facts of a design, each path once.</summary>
    public static ImmutableArray<InputFact> Of(Design design)
    {
        ArgumentNullException.ThrowIfNull(design);
        return new Writing(design).Facts();
    }

    private static bool Stands(PartState state) => state is PartState.Fitted or PartState.Owned;

    private sealed class Writing(Design design)
    {
        private readonly ImmutableArray<InputFact>.Builder _facts = ImmutableArray.CreateBuilder<InputFact>();
        private readonly Dictionary<string, Origin> _origins = design.Origins.ToDictionary(entry => entry.Id, entry => entry.Origin, StringComparer.Ordinal);

        public ImmutableArray<InputFact> Facts()
        {
            WhereAndWho();
            Body();
            OpeningsAndFans();
            GlassAndMetal();
            HeaterAndWalls();
            Aboard();
            return _facts.ToImmutable();
        }

        private void Add(string path, string group, string label, object? value) =>
            _facts.Add(new InputFact(path, group, label, value, _origins.GetValueOrDefault(path)));

        private string ZoneName(string? id) => design.Zones.FirstOrDefault(zone => zone.Id == id)?.Name ?? "outside";

        private void WhereAndWho()
        {
            const string Stops = "Where and when";
            Add("country", Stops, "Country whose codes are cited", design.Country);
            Add("stop.placeKey", Stops, "Place", design.Stop.PlaceKey);
            Add("stop.month", Stops, "Month", design.Stop.Month);
            Add("stop.altitudeM", Stops, "Altitude", design.Stop.Altitude);
            Add("stop.shelter", Stops, "Where it stands to the wind", design.Stop.Shelter);
            foreach (ItineraryStop stay in design.Itinerary)
            {
                string path = $"itinerary[{stay.Id}]";
                Add(path + ".placeKey", Stops, "Place of a stay", stay.PlaceKey);
                Add(path + ".altitudeM", Stops, "Altitude of the stay", stay.Altitude);
                Add(path + ".shelter", Stops, "Where it stands to the wind there", stay.Shelter);
                Add(path + ".from.month", Stops, "First month of the stay", stay.From.Month);
                Add(path + ".from.day", Stops, "First day of the stay", stay.From.Day);
                Add(path + ".to.month", Stops, "Last month of the stay", stay.To.Month);
                Add(path + ".to.day", Stops, "Last day of the stay", stay.To.Day);
            }

            foreach (OwnPlace place in design.OwnPlaces)
            {
                string path = $"ownPlaces[{place.Id}]";
                Add(path + ".country", Stops, $"Country of {place.Name}", place.Country);
                Add(path + ".latitudeDeg", Stops, $"Latitude of {place.Name}", place.Latitude);
                Add(path + ".elevationM", Stops, $"Elevation of {place.Name}", place.Elevation);
                foreach (OwnMonth month in place.Months)
                {
                    Add($"{path}.months[{month.Id}].meanC", Stops, $"Mean temperature of {place.Name}, month {month.Id}", month.Mean);
                    Add($"{path}.months[{month.Id}].humidityPercent", Stops, $"Mean humidity of {place.Name}, month {month.Id}", month.Humidity);
                }
            }

            const string People = "People and habits";
            Add("household.sleepers", People, "Sleepers", design.Household.Sleepers);
            Add("household.animals", People, "Animals", design.Household.Animals);
            Add("household.presence", People, "When people are in the van", design.Household.Presence);
            Add("household.cookingFuel", People, "Cooked with", design.Household.CookingFuel);
            Add("household.cookingHabit", People, "Steam from cooking", design.Household.CookingHabit);
            Add("household.showersPerDay", People, "Showers a day", design.Household.ShowersPerDay);
            Add("household.driesClothes", People, "Wet clothes dry in the van", design.Household.DriesClothes);
            Add("household.hotDrinksPerDay", People, "Hot drinks a day", design.Household.HotDrinksPerDay);
            Add("household.washesUpInside", People, "Dishes are washed in the van", design.Household.WashesUpInside);
            Add("household.plants", People, "Potted plants", design.Household.Plants);
            Add("household.wetFirewoodInside", People, "Wet firewood dries in the van", design.Household.WetFirewoodInside);
            Add("household.wipesGlass", People, "Glass is wiped in the morning", design.Household.WipesGlass);
            Add("heater.nightSetPointC", People, "Temperature kept by night", design.Heater.NightSetPoint);
            Add("heater.daySetPointC", People, "Temperature kept by day", design.Heater.DaySetPoint);
            Add("heater.runsWhenAway", People, "The empty van is heated", design.Heater.RunsWhenAway);
            Add("equipment.leftInLockedVan", People, "People or animals are left in the locked van", design.Equipment.LeftInLockedVan);
            Add("equipment.cookerUsedForWarmth", People, "The cooker is used for warmth", design.Equipment.CookerUsedForWarmth);
            Add("equipment.roofNotCleared", People, "Nobody clears snow off the roof", design.Equipment.RoofNotCleared);
        }

        private void Body()
        {
            const string Van = "The van";
            Add("buildStage", Van, "How far it is built", design.BuildStage);
            Add("body.bodyClass", Van, "Body class", design.Body.BodyClass);
            Add("body.interiorLengthM", Van, "Inside length", design.Body.InteriorLength);
            Add("body.interiorWidthM", Van, "Inside width", design.Body.InteriorWidth);
            Add("body.interiorHeightM", Van, "Inside height", design.Body.InteriorHeight);
            Add("body.floorAboveGroundM", Van, "Floor above the ground", design.Body.FloorAboveGround);
            Add("equipment.steel", Van, "Steel behind the lining", design.Equipment.Steel);
            Add("leakage.effectiveAreaM2", Van, "Leakage of the body at 4 Pa", design.Leakage.EffectiveArea);
            Add("leakage.exponent", Van, "Flow exponent of the leakage", design.Leakage.Exponent);
            foreach (HiddenPart part in design.Body.HiddenParts)
            {
                string path = $"body.hiddenParts[{part.Id}]";
                Add(path + ".kind", Van, $"What {part.Name} is", part.Kind);
                Add(path + ".face", Van, $"Face of {part.Name}", part.Face);
                Place(path, Van, part.Name, part.X, part.Y, part.Z, part.Length, part.Width);
            }

            foreach (RoofPart part in design.Body.RoofParts.Where(part => Stands(part.State)))
            {
                string path = $"body.roofParts[{part.Id}]";
                Add(path + ".kind", Van, $"What {part.Name} is", part.Kind);
                Add(path + ".xM", Van, $"{part.Name}, centre from the windscreen", part.X);
                Add(path + ".yM", Van, $"{part.Name}, centre from the left wall", part.Y);
                Add(path + ".lengthM", Van, $"{part.Name}, size along the van", part.Length);
                Add(path + ".widthM", Van, $"{part.Name}, size across the van", part.Width);
            }

            foreach (Zone zone in design.Zones)
            {
                string path = $"zones[{zone.Id}]";
                Add(path + ".airVolumeM3", Van, $"Air volume of {zone.Name}", zone.AirVolume);
                Add(path + ".fromM", Van, $"{zone.Name} begins at", zone.From);
                Add(path + ".toM", Van, $"{zone.Name} ends at", zone.To);
                Add(path + ".bottomM", Van, $"Lower end of {zone.Name}", zone.Bottom);
                Add(path + ".topM", Van, $"Upper end of {zone.Name}", zone.Top);
            }

            foreach (Passage passage in design.Passages)
            {
                string path = $"passages[{passage.Id}]";
                Add(path + ".freeAreaM2", Van, $"Free area of {passage.Name}", passage.FreeArea);
                Add(path + ".bottomM", Van, $"Lower edge of {passage.Name}", passage.Bottom);
                Add(path + ".topM", Van, $"Upper edge of {passage.Name}", passage.Top);
                Add(path + ".mixingM3PerS", Van, $"Mixing through {passage.Name}", passage.Mixing);
            }
        }

        private void Place(string path, string group, string name, Length x, Length y, Length z, Length length, Length width)
        {
            Add(path + ".xM", group, $"{name}, centre from the windscreen", x);
            Add(path + ".yM", group, $"{name}, centre from the left wall", y);
            Add(path + ".zM", group, $"{name}, centre from the floor", z);
            Add(path + ".lengthM", group, $"{name}, size along the van", length);
            Add(path + ".widthM", group, $"{name}, other size", width);
        }

        private void OpeningsAndFans()
        {
            const string Air = "Vents, windows and fans";
            foreach (Opening opening in design.Openings.Where(opening => Stands(opening.State)))
            {
                string path = $"openings[{opening.Id}]";
                string name = opening.Name;
                Add(path + ".kind", Air, $"What {name} is", opening.Kind);
                Add(path + ".lengthM", Air, $"{name}, size along the van", opening.Length);
                Add(path + ".widthM", Air, $"{name}, other size", opening.Width);
                Add(path + ".freeShare", Air, $"{name}, free share of the frame", opening.FreeShare);
                if (opening.State == PartState.Fitted)
                {
                    // What is only owned may still go elsewhere: its place is a choice.
                    Add(path + ".face", Air, $"Face of {name}", opening.Face);
                    Add(path + ".xM", Air, $"{name}, centre from the windscreen", opening.X);
                    Add(path + ".yM", Air, $"{name}, centre from the left wall", opening.Y);
                    Add(path + ".zM", Air, $"{name}, centre from the floor", opening.Z);
                    Add(path + ".covered", Air, $"{name} is covered by lining or furniture", opening.Covered);
                }

                Add(path + ".facts.usableInRain", Air, $"{name} stays open in rain", opening.Facts.UsableInRain);
                Add(path + ".facts.usableInDrivingRain", Air, $"{name} stays open in driving rain or snow", opening.Facts.UsableInDrivingRain);
                Add(path + ".facts.openAsleep", Air, $"{name} may stay open asleep", opening.Facts.OpenAsleep);
                Add(path + ".facts.openLocked", Air, $"{name} may stay open when locked", opening.Facts.OpenLocked);
                Add(path + ".facts.rainSensor", Air, $"A rain sensor shuts {name}", opening.Facts.RainSensor);
                Add(path + ".facts.seenThrough", Air, $"{name} can be seen through", opening.Facts.SeenThrough);
                Add(path + ".facts.screened", Air, $"{name} has an insect screen", opening.Facts.Screened);
                Add(path + ".facts.fixed", Air, $"{name} cannot be shut", opening.Facts.Fixed);
                if (opening.Fan is Fan fan)
                {
                    Add(path + ".fan.freeAirFlowM3PerS", Air, $"Free-air flow of {name}", fan.FreeAirFlow);
                    Add(path + ".fan.shutOffPressurePa", Air, $"Shut-off pressure of {name}", fan.ShutOffPressure);
                    Add(path + ".fan.soundDba", Air, $"Sound of {name} at full speed, dB(A) at 1 m", fan.SoundDba);
                }

                if (opening.Pane is Pane pane)
                {
                    Pane(path, Air, name, pane);
                }
            }

            foreach (CirculationFan fan in design.CirculationFans.Where(fan => Stands(fan.State)))
            {
                string path = $"circulationFans[{fan.Id}]";
                Add(path + ".flowM3PerS", Air, $"Flow of {fan.Name}", fan.Flow);
                Add(path + ".electricDrawW", Air, $"Electric draw of {fan.Name}", fan.ElectricDraw);
            }

            foreach (Dryer dryer in design.Dryers.Where(dryer => Stands(dryer.State)))
            {
                string path = $"dryers[{dryer.Id}]";
                Add(path + ".kind", Air, $"What {dryer.Name} is", dryer.Kind);
                Add(path + ".removedPerDayKg", Air, $"Water {dryer.Name} removes a day", dryer.RemovedPerDay);
                Add(path + ".electricDrawW", Air, $"Electric draw of {dryer.Name}", dryer.ElectricDraw);
            }
        }

        private void Pane(string path, string group, string name, Pane pane)
        {
            Add(path + ".pane.glass", group, $"Glass of {name}", pane.Glass);
            if (pane.Cover == Cover.None || Stands(pane.CoverState))
            {
                Add(path + ".pane.cover", group, $"Cover of {name} by night", pane.Cover);
            }
        }

        private void GlassAndMetal()
        {
            const string Glass = "Glass and metal";
            foreach (Glazing glazing in design.Glazings)
            {
                string path = $"glazings[{glazing.Id}]";
                Add(path + ".areaM2", Glass, $"Area of {glazing.Name}", glazing.Area);
                Add(path + ".face", Glass, $"Face of {glazing.Name}", glazing.Face);
                Pane(path, Glass, glazing.Name, glazing.Pane);
            }

            foreach (MetalPatch patch in design.BareMetal)
            {
                Add($"bareMetal[{patch.Id}].areaM2", Glass, $"Area of {patch.Name}", patch.Area);
            }
        }

        private void HeaterAndWalls()
        {
            const string Heat = "Heater";
            if (design.Heater.Kind != HeaterKind.None && Stands(design.Heater.State))
            {
                Add("heater.kind", Heat, "Kind of heater", design.Heater.Kind);
                Add("heater.ratedOutputW", Heat, "Rated output of the heater", design.Heater.RatedOutput);
                Add("heater.zoneId", Heat, "Zone the heater warms", ZoneName(design.Heater.ZoneId));
                Add("equipment.heaterRatedAltitudeM", Heat, "Altitude the heater is made for", design.Equipment.HeaterRatedAltitude);
                Point("equipment.heaterExhaust", Heat, "heater's exhaust", design.Equipment.HeaterExhaust);
            }

            foreach ((string part, LayeredAssembly assembly) in new[] { ("walls", design.Walls), ("roof", design.Roof), ("floor", design.Floor) })
            {
                string group = char.ToUpperInvariant(part[0]) + part[1..];
                bool stands = false;
                foreach (Layer layer in assembly.Layers.Where(layer => Stands(layer.State)))
                {
                    stands = true;
                    string path = $"{part}.layers[{layer.Id}]";
                    switch (layer)
                    {
                        case SolidLayer solid:
                            Add(path + ".material", group, $"Material of a layer of the {part}", Materials.Find(solid.Material)?.Name ?? solid.Material);
                            Add(path + ".thicknessM", group, $"Thickness of {Materials.Find(solid.Material)?.Name ?? solid.Material} in the {part}", solid.Thickness);
                            break;
                        case AirLayer air:
                            Add(path + ".thicknessM", group, $"Thickness of an air layer in the {part}", air.Thickness);
                            Add(path + ".ventilation", group, $"Ventilation of an air layer in the {part}", air.Ventilation);
                            break;
                        case MembraneLayer membrane:
                            Add(path + ".vapourEquivalentThicknessM", group, $"Vapour-equivalent thickness of {membrane.Name}", membrane.VapourEquivalentThickness);
                            break;
                        default:
                            throw new InvalidOperationException($"A layer of kind {layer.GetType().Name} is not in the catalogue of inputs.");
                    }
                }

                if (stands)
                {
                    Add(part + ".gaps", group, $"Gaps of the lining of the {part}", assembly.Gaps);
                }
            }

            if (Stands(design.BedBaseState))
            {
                Add("bedBase", "Bed", "Under the mattress", design.BedBase);
            }

            if (Stands(design.CabDividerState))
            {
                Add("cabDivider", "Bed", "Between cab and room", design.CabDivider);
            }
        }

        private void Aboard()
        {
            const string Aboard = "Aboard";
            Equipment equipment = design.Equipment;
            Add("equipment.carbonMonoxideAlarm", Aboard, "Carbon monoxide alarm", equipment.CarbonMonoxideAlarm);
            Add("equipment.smokeAlarm", Aboard, "Smoke alarm", equipment.SmokeAlarm);
            Add("equipment.lowGasAlarm", Aboard, "Gas alarm near the floor", equipment.LowGasAlarm);
            Add("equipment.extinguisher", Aboard, "Fire extinguisher", equipment.Extinguisher);
            Add("equipment.waysOutOfBed", Aboard, "Ways out of the bed", equipment.WaysOutOfBed);
            Add("equipment.gasBottles", Aboard, "Gas bottles aboard", equipment.GasBottles);
            Add("equipment.gasLockerOpensInside", Aboard, "The gas locker opens or drains into the living space", equipment.GasLockerOpensInside);
            Point("equipment.gasLocker", Aboard, "gas locker", equipment.GasLocker);
            Add("equipment.woodStove", Aboard, "Wood stove", equipment.WoodStove);
            Add("equipment.battery", Aboard, "House battery", equipment.Battery);
            Add("equipment.batteryZoneId", Aboard, "Zone of the battery", ZoneName(equipment.BatteryZoneId));
            Add("equipment.batteryUsableJ", Aboard, "Usable battery energy", equipment.BatteryUsable);
            Add("equipment.waterCarried", Aboard, "Water tank or pipes", equipment.WaterCarried);
            Add("equipment.waterZoneId", Aboard, "Zone of the coldest water", ZoneName(equipment.WaterZoneId));
        }

        private void Point(string path, string group, string what, BodyPoint? point)
        {
            Add(path, group, $"Whether and where the {what} is known", point is not null);
            if (point is not null)
            {
                Add(path + ".face", group, $"Face of the {what}", point.Face);
                Add(path + ".xM", group, $"The {what}, from the windscreen", point.X);
                Add(path + ".yM", group, $"The {what}, from the left wall", point.Y);
                Add(path + ".zM", group, $"The {what}, from the floor", point.Z);
            }
        }
    }
}
