using System.Collections.Immutable;
using ConsultDesk.Calculations.Simulation;
using ConsultDesk.Calculations.Vehicle;

namespace ConsultDesk.Calculations.Findings;

/// <summary>Finds the instructions of one cell of the running card.</summary>
internal sealed class CardCellSearch
{
    // Largest change of a zone at which the steady part stands still, K. Settings that differ by less are alike.
    private const double ToleranceK = 1e-3;

    private readonly SituationModel _model;
    private readonly Design _design;
    private readonly CardAim _aim;
    private readonly SituationSolver _solver;
    private readonly SituationStart _start;
    private readonly CardInstructions _instructions;
    private readonly OpeningSetting[] _standing;
    private readonly OpeningSetting[] _shut;
    private readonly OpeningSetting[] _fullest;
    private readonly int[] _livedIn;
    private readonly CancellationToken _cancellation;

    /// <param name="model">The compiled design.</param>
    /// <param name="cell">Which cell it is.</param>
    /// <param name="situation">Its situation.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <param name="start">What is in the van at the beginning; what usually precedes the moment when left out.</param>
    public CardCellSearch(SituationModel model, CardSituation cell, Situation situation, CancellationToken cancellation, SituationStart? start = null)
    {
        _model = model;
        _design = model.Design;
        _aim = CardAim.Of(cell.Moment, cell.Weather);
        _cancellation = cancellation;
        _solver = new SituationSolver(model, situation, flameAsleep: false, ToleranceK);
        _livedIn = SituationRun.LivedIn(model.Night);
        _standing = [.. OpeningSetting.Of(_design)];
        double step = model.Night.Assumed["fan-step"];
        double fastest = FastestFan(cell, situation);
        Choices = [.. _design.Openings.Select((opening, index) => ChoicesOf(opening, _standing[index], cell, situation, step, fastest))];
        _shut = [.. _design.Openings.Select((opening, index) => Choices[index][0])];
        _fullest = [.. Choices.Select(choices => choices.Where(choice => choice.Position == choices.Max(c => c.Position)).MaxBy(choice => choice.FanSpeed))];
        _instructions = new CardInstructions(_design, _standing, _fullest);
        _start = start ?? Start(situation);
    }

    /// <summary>What each opening may be set to in this cell.</summary>
    public OpeningSetting[][] Choices { get; }

    /// <summary>Settings tried.</summary>
    public int Tried { get; private set; }

    /// <summary>The setting of every opening the search chose; empty before it ran.</summary>
    public ImmutableArray<OpeningSetting> Chosen { get; private set; } = [];

    private bool NeedsWater => _aim.Water != 0 || _aim.Condensed != 0;

    /// <summary>Runs the search.</summary>
    /// <param name="few">Settings up to which all are tried.</param>
    public CardCell Find(int few = SettingSearch.FewSettings)
    {
        // The first solve is the start of all others: from here on a setting always has the same measure.
        _ = Measure(_shut);
        double shut = Measure(_shut);
        double fullest = Measure(_fullest);
        // Whatever few instructions would save: the card is never worse than either.
        double most = Math.Min(shut, fullest);
        SettingSearch search = new(Choices, setting => Cost(setting, most));
        OpeningSetting[] best = search.Best(Starts(), few);
        Tried = search.Tried;
        Chosen = [.. best];
        double measure = Measure(best);
        return new CardCell
        {
            Moment = _aim.Moment,
            Weather = _aim.Weather,
            Aim = _aim.Aim,
            Measure = _aim.Measure,
            Instructions = _instructions.Of(best),
            WithCard = _aim.Quantity(measure),
            AllShut = _aim.Quantity(shut),
            AllOpen = _aim.Quantity(fullest),
            Outcome = Outcome(best),
            Caution = Caution(),
        };
    }

    /// <summary>The measure of a setting.</summary>
    public double Measure(ReadOnlySpan<OpeningSetting> setting)
    {
        _cancellation.ThrowIfCancellationRequested();
        double measure = 0;
        for (int index = 0; index < setting.Length; index++)
        {
            bool open = setting[index].Position != Position.Shut && !_design.Openings[index].Facts.Fixed;
            measure += (open ? _aim.Open : 0) + (_aim.Fan * setting[index].FanSpeed);
        }

        if (_aim.Moment == Moment.DrivingOff)
        {
            return measure;
        }

        if (NeedsWater)
        {
            _solver.Solve(setting, _start, _cancellation);
            measure += (_aim.Water * 1000 * _solver.WaterLeftKg()) + (_aim.Condensed * 1000 * _solver.CondensedOnGlassAndMetalKg());
        }
        else
        {
            _solver.SolveAir(setting, _start, _cancellation);
        }

        measure += _aim.Heat * _solver.Balance.HeaterW;
        measure += _aim.Cold * TooColdK();
        if (_aim.Air != 0)
        {
            double neededM3PerH = _solver.Situation.People * _model.Night.Assumed["night-air-per-sleeper"];
            measure += _aim.Air * Math.Max(0, neededM3PerH - _solver.AirAtSleepersM3PerH());
        }

        return measure + (_aim.Warmth * WarmestC());
    }

    private double Cost(ReadOnlySpan<OpeningSetting> setting, double most)
    {
        int count = _instructions.Count(setting);
        if (count > CardInstructions.Most)
        {
            return double.PositiveInfinity;
        }

        double measure = Measure(setting);
        return measure <= most ? measure + (_aim.Price * count) : double.PositiveInfinity;
    }

    // The design's own setting as far as it may stand, all shut, all open, and each opening full alone.
    private List<OpeningSetting[]> Starts()
    {
        List<OpeningSetting[]> starts = [_shut, _fullest];
        OpeningSetting[] asItStands = [.. Choices.Select((choices, index) => choices.Contains(_standing[index]) ? _standing[index] : choices[0])];
        starts.Add(asItStands);
        for (int index = 0; index < _design.Openings.Length; index++)
        {
            if (Choices[index].Length > 1)
            {
                OpeningSetting[] alone = [.. _shut];
                alone[index] = _fullest[index];
                starts.Add(alone);
            }
        }

        return starts;
    }

    private double FastestFan(CardSituation cell, Situation situation)
    {
        // Nobody who stays behind may rely on a fan, and a stove's flue must not be pulled back.
        bool reliedOn = situation.Activity == Activity.LockedAndLeft && _design.Equipment.LeftInLockedVan;
        // In any weather: it is warm after cooking on it, and a card that lets fans run beside its own caution would not be believed.
        bool flue = HeaterKinds.HasOpenFlue(_design);
        double quiet = situation.Activity == Activity.Asleep ? _model.Night.Assumed["quiet-fan-speed"] : 1;
        return reliedOn || flue ? 0 : quiet;
    }

    private OpeningSetting[] ChoicesOf(Opening opening, OpeningSetting standing, CardSituation cell, Situation situation, double step, double fastest)
    {
        if (!OpeningUse.MayStandOpen(opening, situation) || TakesInExhaust(opening, cell))
        {
            return opening.Facts.Fixed ? [new OpeningSetting(Position.Full, 0)] : [OpeningSetting.Shut];
        }

        if (opening.Kind == OpeningKind.PressureReliefFlap && !opening.Facts.Fixed)
        {
            return [standing];
        }

        List<OpeningSetting> choices = opening.Facts.Fixed ? [] : [OpeningSetting.Shut];
        foreach (Position position in opening.Facts.Fixed ? [Position.Full] : (Position[])[Position.Ajar, Position.Half, Position.Full])
        {
            choices.Add(new OpeningSetting(position, 0));
            for (int notch = 1; opening.Fan is not null && notch * step <= fastest + 1e-9; notch++)
            {
                // Rounded, so that three steps of a tenth are the three tenths the design has.
                choices.Add(new OpeningSetting(position, Math.Round(notch * step, 6)));
            }
        }

        if (standing.FanSpeed <= fastest && !choices.Contains(standing) && (standing.Position != Position.Shut || !opening.Facts.Fixed))
        {
            choices.Add(standing);
        }

        return [.. choices];
    }

    // Burnt gas of the heater would come in. Nothing heats in the heat.
    private bool TakesInExhaust(Opening opening, CardSituation cell) =>
        cell.Weather != CardWeather.Heat && Exhaust.Of(_design) is BodyPoint exhaust && Exhaust.IsBeside(_design, exhaust, opening);

    private double TooColdK()
    {
        double coldestC = double.PositiveInfinity;
        foreach (int zone in _livedIn)
        {
            coldestC = Math.Min(coldestC, _solver.Balance.TemperatureC[zone]);
        }

        return Math.Max(0, _solver.Balance.SetPointC - _model.Night.Assumed["card-cold-tolerance"] - coldestC);
    }

    private double WarmestC()
    {
        if (_aim.Moment == Moment.GoingToBed)
        {
            return _solver.Balance.TemperatureC[_model.Night.FirstOf(ZoneKind.Sleeping)];
        }

        double warmestC = double.NegativeInfinity;
        foreach (int zone in _livedIn)
        {
            warmestC = Math.Max(warmestC, _solver.Balance.TemperatureC[zone]);
        }

        return warmestC;
    }

    // Cooking, driving and the night begin with the air of people awake; morning and leaving with what the night left.
    private SituationStart Start(Situation situation)
    {
        ImmutableArray<OpeningSetting> standing = [.. _standing];
        SituationStart awake = SituationRun.Before(_model, situation, standing, flameAsleep: false, ToleranceK, _cancellation);
        if (_aim.Moment is not (Moment.Morning or Moment.LeavingItLocked))
        {
            return awake;
        }

        SituationSolver night = new(_model, situation with
        {
            Activity = Activity.Asleep,
            People = _design.Household.Sleepers,
            Lasts = Climate.Nights.Length,
            Sun = UnitsNet.Irradiance.Zero,
        }, flameAsleep: false, ToleranceK);
        night.Solve(SituationRun.Allowed(_design, standing, night.Situation).AsSpan(), awake, _cancellation);
        return night.End();
    }

    private SituationResult Outcome(OpeningSetting[] best)
    {
        _solver.Solve(best, _start, _cancellation);
        return SituationRun.Result(_model, _solver, [.. _standing]);
    }

    private string Caution()
    {
        List<string> cautions = [];
        if (_aim.Caution.Length > 0)
        {
            cautions.Add(_aim.Caution);
        }

        if (_aim.Moment == Moment.Cooking && _design.Household.CookingFuel == CookingFuel.Gas)
        {
            cautions.Add("A gas flame needs its fixed vents and a carbon monoxide alarm; the local code and a gas fitter decide.");
        }

        if (_aim.Moment is Moment.Cooking or Moment.GoingToBed && _fullest.All(setting => setting.Position == Position.Shut))
        {
            cautions.Add(_aim.Moment == Moment.Cooking && _design.Household.CookingFuel == CookingFuel.Gas
                ? "Nothing can stand open here: light no flame."
                : "Nothing can stand open here: the air goes stale with people in it.");
        }

        if (HeaterKinds.HasOpenFlue(_design))
        {
            cautions.Add("No fan runs on this card: the stove may be warm.");
        }

        return string.Join(' ', cautions);
    }
}
