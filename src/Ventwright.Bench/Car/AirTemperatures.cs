using Ventwright.Model.Kernel;
using Ventwright.Physics.Car;
using Ventwright.Physics.Moist;

namespace Ventwright.Bench.Car;

/// <summary>
/// Carries temperature and moisture along the air of any sheet: each space has the mix of what flows into it, each exchanger changes what passes. What
/// slips past a perished seal is a path like any other, so lukewarm air comes out of the sheet by itself.
/// </summary>
public sealed class AirTemperatures
{
    private const double Density = 1.2;
    private const int MostSweeps = 200;
    private readonly UnitModel _model;
    private readonly int _outside;
    private readonly ExchangerRole?[] _roleOf;
    private readonly double[] _kelvin, _ratio, _fresh, _share;
    private readonly int[][] _touching;
    private double _dew;

    /// <summary>Looks the spaces and exchangers of a unit up. The open space called <c>outside</c> is the car's surroundings; all other open spaces are its cabin.</summary>
    public AirTemperatures(UnitModel model)
    {
        _model = model;
        _outside = Array.IndexOf(model.Spaces, "outside");
        _roleOf = new ExchangerRole?[model.Air.Length];
        foreach (Exchanger exchanger in model.Exchangers) _roleOf[exchanger.Branch] = exchanger.Role;
        (_kelvin, _ratio, _fresh) = (new double[model.Spaces.Length], new double[model.Spaces.Length], new double[model.Spaces.Length]);
        _share = new double[model.Air.Length];
        _touching = [.. model.Spaces.Select((_, space) => model.Air.Index().Where(b => b.Item.A == space || b.Item.B == space).Select(b => b.Index).ToArray())];
        Array.Fill(_kelvin, 293.15);
    }

    /// <summary>Works out what the unit blows into the cabin.</summary>
    /// <param name="flow">Flow of each air branch, m3/s.</param>
    /// <param name="car">The car.</param>
    /// <param name="state">Its state.</param>
    /// <param name="weather">What the world does.</param>
    /// <param name="water">Share of the full coolant flow that the heater gets, 0..1.</param>
    /// <param name="clutch">Whether the compressor is driven.</param>
    public UnitHeat Carry(ReadOnlySpan<double> flow, CarBody car, in CarState state, in Weather weather, double water, bool clutch)
    {
        Borders(state, weather);
        Exchangers(flow, car, state, water);
        for (int sweep = 0; sweep < MostSweeps; sweep++)
        {
            if (Sweep(flow, state) < 1e-7) break;
        }

        return Sum(flow, state, clutch);
    }

    /// <summary>Temperature of the air that leaves a branch into the space at its far end after the last <see cref="Carry"/>, K.</summary>
    /// <param name="branch">Air branch.</param>
    /// <param name="flow">Its flow, m3/s.</param>
    /// <param name="state">The car's state.</param>
    public double LeavingK(int branch, double flow, in CarState state) => Leaving(branch, flow, state).Kelvin;

    /// <summary>How far each exchanger takes the air towards its own temperature.</summary>
    private void Exchangers(ReadOnlySpan<double> flow, CarBody car, in CarState state, double water)
    {
        _dew = MoistAir.HumidityRatio(state.Evaporator, 1, 101325);
        foreach (Exchanger exchanger in _model.Exchangers)
        {
            double mass = Math.Abs(flow[exchanger.Branch]) * Density;
            bool heater = exchanger.Role == ExchangerRole.Heater;
            double share = CarHeat.Effectiveness(heater ? car.HeaterSize : car.EvaporatorSize, car.RatedAir, mass);
            // A valve that is nearly shut starves the core: full effect is 1, a twentieth of the flow gives half (common practice, no source).
            _share[exchanger.Branch] = heater ? share * 1.05 * water / (water + 0.05) : share;
        }
    }

    private void Borders(in CarState state, in Weather weather)
    {
        for (int i = 0; i < _kelvin.Length; i++)
        {
            if (!_model.OpenSpaces[i]) continue;
            bool outside = i == _outside;
            _kelvin[i] = outside ? weather.OutsideK : state.Air;
            _ratio[i] = outside ? MoistAir.HumidityRatio(weather.OutsideK, weather.Humidity, 101325) : state.Ratio;
            _fresh[i] = outside ? 1 : 0;
        }
    }

    private double Sweep(ReadOnlySpan<double> flow, in CarState state)
    {
        double change = 0;
        for (int space = 0; space < _kelvin.Length; space++)
        {
            if (_model.OpenSpaces[space]) continue;
            (double mass, double heat, double moisture, double fresh) = (0, 0, 0, 0);
            foreach (int b in _touching[space])
            {
                double into = Into(b, space, flow[b]);
                if (into <= 1e-9) continue;
                var leaves = Leaving(b, flow[b], state);
                (mass, heat, moisture, fresh) = (mass + into, heat + (into * leaves.Kelvin), moisture + (into * leaves.Ratio), fresh + (into * leaves.Fresh));
            }

            if (mass <= 0) continue;
            change = Math.Max(change, Math.Abs((heat / mass) - _kelvin[space]));
            (_kelvin[space], _ratio[space], _fresh[space]) = (heat / mass, moisture / mass, fresh / mass);
        }

        return change;
    }

    private double Into(int branch, int space, double flow) =>
        _model.Air[branch].B == space ? flow : _model.Air[branch].A == space ? -flow : 0;

    /// <summary>What leaves a branch at its far end.</summary>
    private (double Kelvin, double Ratio, double Fresh) Leaving(int branch, double flow, in CarState state)
    {
        int from = flow >= 0 ? _model.Air[branch].A : _model.Air[branch].B;
        (double kelvin, double ratio, double fresh, double share) = (_kelvin[from], _ratio[from], _fresh[from], _share[branch]);
        return _roleOf[branch] switch
        {
            ExchangerRole.Heater => (kelvin + (share * (state.Coolant - kelvin)), ratio, fresh),
            ExchangerRole.Evaporator => (kelvin - (share * (kelvin - state.Evaporator)), ratio - (share * Math.Max(0, ratio - _dew)), fresh),
            _ => (kelvin, ratio, fresh),
        };
    }

    private UnitHeat Sum(ReadOnlySpan<double> flow, in CarState state, bool clutch)
    {
        (double blown, double heat, double moisture, double fresh, double heater, double evaporator) = (0, 0, 0, 0, 0, 0);
        for (int b = 0; b < flow.Length; b++)
        {
            AirBranch branch = _model.Air[b];
            int to = flow[b] >= 0 ? branch.B : branch.A, from = flow[b] >= 0 ? branch.A : branch.B;
            double mass = Math.Abs(flow[b]) * Density;
            var leaves = Leaving(b, flow[b], state);
            if (_model.OpenSpaces[to] && to != _outside && !(_model.OpenSpaces[from] && from != _outside))
                (blown, heat, moisture, fresh) = (blown + mass, heat + (mass * leaves.Kelvin), moisture + (mass * leaves.Ratio), fresh + (mass * leaves.Fresh));
            double warmed = mass * MoistAir.DryHeat * (leaves.Kelvin - _kelvin[from]);
            if (_roleOf[b] == ExchangerRole.Heater) heater += warmed;
            if (_roleOf[b] == ExchangerRole.Evaporator) evaporator += -warmed + (mass * MoistAir.EvaporationHeat * (_ratio[from] - leaves.Ratio));
        }

        return blown <= 0
            ? new(0, state.Air, state.Ratio, 0, heater, evaporator, clutch)
            : new(blown, heat / blown, moisture / blown, fresh, heater, evaporator, clutch);
    }
}
