using System.Collections.Immutable;
using ConsultDesk.Calculations.Air;
using ConsultDesk.Calculations.Airflow;
using ConsultDesk.Calculations.Climate;
using ConsultDesk.Calculations.Envelope;
using ConsultDesk.Calculations.Heating;
using ConsultDesk.Calculations.Moisture;
using ConsultDesk.Calculations.Vehicle;
using UnitsNet;

namespace ConsultDesk.Calculations.Simulation;

/// <summary>Turns a solved night into an assessment without findings.</summary>
internal static class NightReport
{
    public static Assessment Write(SteadyNight night, double designLoadW)
    {
        double[] carbonDioxide = GasShare(
            night, night.Model.Assumed["outdoor-carbon-dioxide"] / 1e6, night.Sources.PeopleCarbonDioxideMolPerS,
            night.Sources.AnimalCarbonDioxideMolPerS,
            night.Sources.HeaterFuel is Fuel fuel ? CombustionGases.CarbonDioxideMol(fuel, night.Balance.HeaterW) : 0);
        return new Assessment
        {
            MethodVersion = Assessor.MethodVersion,
            Weather = night.Weather,
            Night = Nights.Length,
            Air = Air(night.Model, night.Air),
            Zones = Zones(night, carbonDioxide),
            Water = Water(night),
            Surfaces = Surfaces(night),
            Assemblies = Assemblies(night),
            Heat = Heat(night, designLoadW),
            Combustion = Combustion(night, carbonDioxide),
            Findings = [],
        };
    }

    /// <summary>The flows of a solved network through the openings and passages of its design.</summary>
    public static AirExchange Air(NightModel model, AirFlowSolution air)
    {
        Design design = model.Design;
        ImmutableArray<FanPoint>.Builder fans = ImmutableArray.CreateBuilder<FanPoint>();
        ImmutableArray<OpeningFlow>.Builder openings = ImmutableArray.CreateBuilder<OpeningFlow>(design.Openings.Length);
        for (int index = 0; index < design.Openings.Length; index++)
        {
            Opening opening = design.Openings[index];
            if (model.OpeningPaths[index] is not OutsidePath path)
            {
                openings.Add(new OpeningFlow(opening.Id, VolumeFlow.Zero, VolumeFlow.Zero));
                continue;
            }

            VolumeFlow forward = air.ForwardFlow(path.Index);
            VolumeFlow backward = air.BackwardFlow(path.Index);
            openings.Add(path.Outwards ? new OpeningFlow(opening.Id, backward, forward) : new OpeningFlow(opening.Id, forward, backward));
            if (opening.Fan is not null && air.FanPoint(path.Index) is FanOperatingPoint point)
            {
                fans.Add(new FanPoint(opening.Id, point.Flow, point.FreeAirFlow, point.ShareOfFreeAirFlow, point.PressureRise));
            }
        }

        return new AirExchange
        {
            Openings = openings.MoveToImmutable(),
            Passages = [.. design.Passages.Select((passage, index) => Passage(air, passage, model.PassagePaths[index]))],
            LeakageIn = Sum(model.LeakagePaths.Select(air.ForwardFlow)),
            LeakageOut = Sum(model.LeakagePaths.Select(air.BackwardFlow)),
            OutdoorAir = air.OutdoorAir(),
            AirChangesPerHour = air.AirChangesPerHour(),
            Suction = Pressure.FromPascals(-air.ZonePressurePa[model.FirstOf(ZoneKind.Living)]),
            Fans = fans.ToImmutable(),
        };
    }

    private static PassageFlow Passage(AirFlowSolution air, Passage passage, (int Gap, int Mixing, bool Reversed) paths)
    {
        double forward = air.ForwardFlow(paths.Gap).CubicMetersPerSecond;
        double backward = air.BackwardFlow(paths.Gap).CubicMetersPerSecond;
        double net = paths.Reversed ? backward - forward : forward - backward;
        double mixing = Math.Min(forward, backward) + air.ForwardFlow(paths.Mixing).CubicMetersPerSecond;
        return new PassageFlow(passage.Id, VolumeFlow.FromCubicMetersPerSecond(net), VolumeFlow.FromCubicMetersPerSecond(mixing));
    }

    private static ImmutableArray<ZoneState> Zones(SteadyNight night, double[] carbonDioxide)
    {
        NightBalance balance = night.Balance;
        return
        [
            .. night.Model.Design.Zones.Select((zone, index) =>
            {
                double temperatureC = balance.TemperatureC[index];
                double vapourPa = MoistAir.VapourPressurePa(balance.HumidityRatio[index], balance.PressurePa);
                // Mist forms within hundredths of a pascal of saturation: the surplus over 100 % is that and rounding.
                double share = Math.Min(1, MoistAir.RelativeHumidityShare(temperatureC, vapourPa));
                return new ZoneState
                {
                    ZoneId = zone.Id,
                    Temperature = Temperature.FromDegreesCelsius(temperatureC),
                    RelativeHumidity = RelativeHumidity.FromPercent(100 * share),
                    DewPoint = Temperature.FromDegreesCelsius(MoistAir.DewPointC(vapourPa)),
                    AgeOfAir = Duration.FromSeconds(night.Air.ZoneAgeS[index]),
                    CarbonDioxide = VolumeConcentration.FromPartsPerMillion(1e6 * carbonDioxide[index]),
                };
            }),
        ];
    }

    private static WaterBalance Water(SteadyNight night)
    {
        NightBalance balance = night.Balance;
        NightSources sources = night.Sources;
        double heaterKgPerS = balance.HeaterW * balance.HeaterWaterKgPerJ;
        ImmutableArray<WaterSource> named =
        [
            .. new (string Name, double KgPerS)[]
            {
                ("Sleepers", sources.PeopleWaterKgPerS),
                ("Animals", sources.AnimalWaterKgPerS),
                ("Cooking", sources.CookingWaterKgPerS),
                ("Flame of the cooker", sources.CookingFlameWaterKgPerS),
                ("Hot drinks and dishes", sources.DrinksAndDishesKgPerS),
                ("Showers", sources.ShowersKgPerS),
                ("Wet clothes", sources.ClothesKgPerS),
                ("Plants", sources.PlantsKgPerS),
                ("Wet firewood", sources.FirewoodKgPerS),
                ("Flame of the unflued heater", heaterKgPerS),
            }.Where(source => source.KgPerS > 0).Select(source => new WaterSource(source.Name, KgPerS(source.KgPerS))),
        ];
        double onSurfaces = balance.CondensingKgPerS.Sum();
        double mist = balance.MistKgPerS.Sum();
        double onLinings = night.Model.Surfaces.Select((surface, k) => IsLining(surface.Part) ? balance.CondensingKgPerS[k] : 0).Sum();
        return new WaterBalance
        {
            Sources = named,
            CarriedOut = KgPerS(CarriedOut(night, balance.HumidityRatio, balance.OutdoorHumidityRatio)),
            Condensing = KgPerS(onSurfaces + mist),
            Removed = KgPerS(balance.DriedKgPerS.Sum()),
            CondensedPerNight = PerNight(onSurfaces + mist),
            OnLinings = KgPerS(onLinings),
            Mist = KgPerS(mist),
        };
    }

    // What the air that leaves carries, less what the same air brought. Air leaving a zone is the sum of what enters it.
    private static double CarriedOut(SteadyNight night, double[] perZone, double outdoor)
    {
        int zones = night.Model.ZoneCount;
        ReadOnlySpan<double> transport = night.Air.TransportKgPerS;
        double sum = 0;
        for (int i = 0; i < zones; i++)
        {
            double leaving = night.Air.ZoneInflowKgPerS[i];
            for (int j = 0; j < zones; j++)
            {
                leaving -= transport[(j * (zones + 1)) + i];
            }

            sum += (leaving * perZone[i]) - (transport[(i * (zones + 1)) + zones] * outdoor);
        }

        return sum;
    }

    private static ImmutableArray<SurfaceState> Surfaces(SteadyNight night)
    {
        NightBalance balance = night.Balance;
        return
        [
            .. night.Model.Surfaces.Select((surface, k) => (Surface: surface, Index: k))
                .Where(pair => !IsLining(pair.Surface.Part))
                .Select(pair => new SurfaceState
                {
                    Id = pair.Surface.Id,
                    Name = pair.Surface.Name,
                    ZoneId = night.Model.Design.Zones[pair.Surface.Zone].Id,
                    Kind = pair.Surface.Part == SurfacePart.Metal ? SurfaceKind.Metal : SurfaceKind.Glass,
                    Area = Area.FromSquareMeters(pair.Surface.AreaM2),
                    Temperature = Temperature.FromDegreesCelsius(balance.SurfaceC[pair.Index]),
                    DewPoint = Temperature.FromDegreesCelsius(MoistAir.DewPointC(
                        MoistAir.VapourPressurePa(balance.HumidityRatio[pair.Surface.Zone], balance.PressurePa))),
                    CondensedPerNight = PerNight(balance.CondensingKgPerS[pair.Index]),
                    Frost = balance.CondensingKgPerS[pair.Index] > 0 && balance.SurfaceC[pair.Index] < MoistAir.TriplePointC,
                    UValue = pair.Surface.Path.UValue(),
                }),
        ];
    }

    private static ImmutableArray<AssemblyState> Assemblies(SteadyNight night) =>
    [
        Assembly(night, SurfacePart.Walls, "Walls", night.Model.Design.Walls, night.Model.Walls),
        Assembly(night, SurfacePart.Roof, "Roof", night.Model.Design.Roof, night.Model.Roof),
        Assembly(night, SurfacePart.Floor, "Floor", night.Model.Design.Floor, night.Model.Floor),
    ];

    // Temperatures are those behind the mean room air of the zones the part encloses, weighted by area.
    private static AssemblyState Assembly(SteadyNight night, SurfacePart part, string name, LayeredAssembly assembly, AssemblyResistance resistance)
    {
        NightBalance balance = night.Balance;
        double areaM2 = 0;
        double weightedC = 0;
        double condensingKgPerS = 0;
        for (int k = 0; k < night.Model.Surfaces.Length; k++)
        {
            NightSurface surface = night.Model.Surfaces[k];
            if (surface.Part == part)
            {
                areaM2 += surface.AreaM2;
                weightedC += surface.AreaM2 * balance.TemperatureC[surface.Zone];
                condensingKgPerS += balance.CondensingKgPerS[k];
            }
        }

        double behindC = Enumerable.Range(0, night.Model.Surfaces.Length).Where(k => night.Model.Surfaces[k].Part == part)
            .Select(balance.BehindC).DefaultIfEmpty(balance.OutdoorC).First();
        double roomC = areaM2 > 0 ? weightedC / areaM2 : balance.TemperatureC[night.Model.HeaterZone];
        return new AssemblyState
        {
            Part = name,
            Name = assembly.Name,
            Area = Area.FromSquareMeters(areaM2),
            UValue = resistance.UValue,
            WithRibs = part == SurfacePart.Floor ? null : WithRibs(night.Model.Assumed, assembly, resistance, part == SurfacePart.Roof ? HeatFlow.Upwards : HeatFlow.Horizontal),
            Temperatures = resistance.Temperatures(Temperature.FromDegreesCelsius(roomC), Temperature.FromDegreesCelsius(behindC)),
            CondensedPerNight = PerNight(condensingKgPerS),
        };
    }

    // Ribs cross the layer that insulates most. A bare skin has nothing to bridge.
    private static RibbedUValue? WithRibs(Assumptions assumed, LayeredAssembly assembly, AssemblyResistance resistance, HeatFlow flow)
    {
        int crossed = Enumerable.Range(0, assembly.Layers.Length).MaxBy(layer => resistance.Layers[layer].SquareMeterKelvinsPerWatt);
        bool metal = assembly.Layers[crossed] is SolidLayer solid && Materials.Get(solid.Material).IsMetal;
        if (metal || resistance.Layers[crossed].SquareMeterKelvinsPerWatt <= 0)
        {
            return null;
        }

        CombinedResistance ribbed = ThermalTransmittance.WithRibs(
            assembly, flow, new Ribs(assembly.Layers[crossed].Id, "mild-steel", Ratio.FromPercent(assumed["rib-metal-share"])));
        return new RibbedUValue(
            HeatTransferCoefficient.FromWattsPerSquareMeterKelvin(1 / ribbed.Upper.SquareMeterKelvinsPerWatt),
            HeatTransferCoefficient.FromWattsPerSquareMeterKelvin(1 / ribbed.Lower.SquareMeterKelvinsPerWatt),
            "Metal ribs lie outside the method of ISO 6946; the truth lies between its two limits.");
    }

    private static HeatBalance Heat(SteadyNight night, double designLoadW)
    {
        NightBalance balance = night.Balance;
        Heater heater = night.Model.Design.Heater;
        double seconds = Nights.Length.Seconds;
        HeaterClass? heaterClass = Heaters.Nearest(heater.Kind, heater.RatedOutput);
        return new HeatBalance
        {
            Losses = Losses(night),
            People = Power.FromWatts(night.Sources.PeopleSensibleW + night.Sources.AnimalSensibleW),
            Other = Power.FromWatts(night.Sources.CookingSensibleW + night.Sources.HabitsSensibleW + DryerW(night)),
            Heater = Power.FromWatts(balance.HeaterW),
            DesignLoad = Power.FromWatts(designLoadW),
            FuelPerNight = heaterClass?.Fuel is Fuel fuel
                ? Mass.FromKilograms(FuelUse.FuelKg(fuel, balance.HeaterW * seconds, heaterClass.Efficiency))
                : null,
            ElectricPerNight = heater.Kind == HeaterKind.Electric ? Energy.FromJoules(balance.HeaterW * seconds) : null,
        };
    }

    // What dryers draw, and the heat set free by the water they take out.
    private static double DryerW(SteadyNight night) => !night.Balance.DryersRun ? 0
        : night.Model.Dryers.Sum(dryer => dryer.DrawW) + (MoistAir.EvaporationHeat * night.Balance.DriedKgPerS.Sum());

    private static ImmutableArray<HeatPath> Losses(SteadyNight night)
    {
        NightModel model = night.Model;
        NightBalance balance = night.Balance;
        double other = 0;
        double cab = 0;
        double mist = 0;
        for (int zone = 0; zone < model.ZoneCount; zone++)
        {
            double lossW = HeatLoss.TransmissionW(
                model.OtherLossWPerK[zone], balance.TemperatureC[zone], model.OtherBehindC(balance.OutdoorC, balance.SkyLossWPerM2));
            bool isCab = model.Design.Zones[zone].Kind == ZoneKind.Cab;
            cab += isCab ? lossW : 0;
            other += isCab ? 0 : lossW;
            mist -= balance.MistHeatW[zone];
        }

        return
        [
            .. new (string Name, double Watts)[]
            {
                ("Air exchange", MoistAir.DryAirHeatCapacity * CarriedOut(night, balance.TemperatureC, balance.OutdoorC)),
                ("Glass", SurfaceLoss(night, SurfacePart.Glazing) + SurfaceLoss(night, SurfacePart.Pane)),
                ("Walls", SurfaceLoss(night, SurfacePart.Walls)),
                ("Roof", SurfaceLoss(night, SurfacePart.Roof)),
                ("Floor", SurfaceLoss(night, SurfacePart.Floor)),
                ("Bare metal", SurfaceLoss(night, SurfacePart.Metal)),
                ("Cab trim and doors", cab),
                ("Ribs and seams", other),
                ("Mist giving heat back", mist),
            }.Where(path => path.Watts != 0).Select(path => new HeatPath(path.Name, Power.FromWatts(path.Watts))),
        ];
    }

    // Heat the room gives to the surfaces of a part; what condensing water gives back is already taken off.
    private static double SurfaceLoss(SteadyNight night, SurfacePart part)
    {
        double watts = 0;
        for (int k = 0; k < night.Model.Surfaces.Length; k++)
        {
            NightSurface surface = night.Model.Surfaces[k];
            if (surface.Part == part)
            {
                watts += HeatLoss.TransmissionW(
                    surface.AreaM2 / surface.Path.InsideM2KPerW, night.Balance.TemperatureC[surface.Zone], night.Balance.SurfaceC[k]);
            }
        }

        return watts;
    }

    private static Combustion? Combustion(SteadyNight night, double[] carbonDioxide)
    {
        double heaterW = night.Balance.HeaterW;
        if (night.Sources.HeaterFuel is not Fuel fuel || heaterW == 0)
        {
            return null;
        }

        int worst = Array.IndexOf(carbonDioxide, carbonDioxide.Max());
        double[] used = GasShare(
            night,
            outdoorShare: 0,
            night.Sources.PeopleCarbonDioxideMolPerS * NightSources.OxygenPerCarbonDioxideBreathed,
            night.Sources.AnimalCarbonDioxideMolPerS * NightSources.OxygenPerCarbonDioxideBreathed,
            CombustionGases.OxygenUsedMol(fuel, heaterW));
        return new Combustion
        {
            Fuel = KgPerS(CombustionGases.FuelKgPerS(fuel, heaterW)),
            Water = KgPerS(CombustionGases.WaterKg(fuel, heaterW)),
            CarbonDioxide = VolumeConcentration.FromPartsPerMillion(1e6 * carbonDioxide[worst]),
            Oxygen = Ratio.FromPercent(night.Model.Assumed["outdoor-oxygen"] - (100 * used[worst])),
        };
    }

    /// <summary>Share by volume of a trace gas in each zone, given off by sleepers, animals and in the heated zone.</summary>
    private static double[] GasShare(SteadyNight night, double outdoorShare, double sleepersMolPerS, double animalsMolPerS, double heaterMolPerS)
    {
        NightModel model = night.Model;
        int zones = model.ZoneCount;
        double[] sources =
        [
            .. model.SleepingShares.Zip(model.LivingShares).Select(share =>
                MoistAir.DryAirKgPerMol * ((share.First * sleepersMolPerS) + (share.Second * animalsMolPerS))),
        ];
        sources[model.HeaterZone] += MoistAir.DryAirKgPerMol * heaterMolPerS;
        return TraceGas.Shares(night.Air.TransportKgPerS, sources, outdoorShare, zones);
    }

    private static bool IsLining(SurfacePart part) => part is SurfacePart.Walls or SurfacePart.Roof or SurfacePart.Floor;

    private static VolumeFlow Sum(IEnumerable<VolumeFlow> flows) =>
        VolumeFlow.FromCubicMetersPerSecond(flows.Sum(flow => flow.CubicMetersPerSecond));

    private static MassFlow KgPerS(double kgPerS) => MassFlow.FromKilogramsPerSecond(kgPerS);

    private static Mass PerNight(double kgPerS) => Mass.FromKilograms(kgPerS * Nights.Length.Seconds);
}
