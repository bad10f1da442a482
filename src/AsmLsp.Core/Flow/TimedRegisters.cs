using AsmLsp.Core.Devices;
using AsmLsp.Core.Instructions;

namespace AsmLsp.Core.Flow;

/// <summary>W, the flags and the general-purpose registers as far as they are known while a routine is timed.</summary>
internal sealed class TimedRegisters
{
    private const int Carry = 0,
        Zero = 2,
        IndirectRegister = 0,
        LowestGeneral = 0x0C;

    private readonly FlowGraph graph;
    private readonly bool banksChange;
    private readonly Dictionary<int, int> values;
    private readonly Dictionary<int, int> touches;
    private bool? c,
        z;

    public TimedRegisters(FlowGraph graph, bool banksChange)
    {
        this.graph = graph;
        this.banksChange = banksChange;
        values = [];
        touches = [];
    }

    private TimedRegisters(TimedRegisters other)
    {
        (graph, banksChange, c, z, W) = (other.graph, other.banksChange, other.c, other.z, other.W);
        values = new Dictionary<int, int>(other.values);
        touches = new Dictionary<int, int>(other.touches);
    }

    public int? W { get; set; }

    public TimedRegisters Copy() => new(this);

    /// <summary>Names a general-purpose register for the instruction at an address; -1 where it is none, or not known which.</summary>
    public int Key(int low, int at)
    {
        Device? device = graph.Walk.Device;
        int lowest = device?.DataMemory.FirstGeneralPurpose ?? LowestGeneral;
        // Where the bank stays the same for the whole routine, the offset alone tells the register.
        if (!banksChange)
            return low >= lowest ? low : -1;
        if (device is null)
            return -1;
        if (device.DataMemory.IsSameInEveryBank(low))
            return device.DataMemory.IsGeneralPurpose(low) ? low : -1;
        if (graph.StateAt(at).Bank(device.DataMemory.BankCount) is not { } bank)
            return -1;
        int full = (bank << 7) | low;
        return device.DataMemory.IsGeneralPurpose(full) ? device.DataMemory.Canonical(full) : -1;
    }

    public int? Value(int key) => values.TryGetValue(key, out int value) ? value : null;

    public int Touches(int key) => touches.GetValueOrDefault(key);

    public void Set(int key, int value) => values[key] = value;

    /// <summary>Whether everything but one register is as in another state.</summary>
    public bool SameBut(TimedRegisters other, int key)
    {
        if (W != other.W || c != other.c || z != other.z || values.Count != other.values.Count)
            return false;
        foreach ((int register, int value) in values)
            if (register != key && (!other.values.TryGetValue(register, out int there) || there != value))
                return false;
        return true;
    }

    /// <summary>Carries out an instruction that neither jumps nor calls; whether it skips, or null where that is not known.</summary>
    public bool? Step(in DecodedInstruction decoded, int at)
    {
        string name = decoded.Instruction.Name;
        switch (decoded.Instruction.Operands)
        {
            case OperandKind.Literal8:
                Literal(name, decoded.First);
                return null;
            case OperandKind.RegisterBit:
                return Bit(name, decoded, at);
            case OperandKind.Register:
                Store(decoded.First, at, name == "movwf" ? W : 0);
                if (name == "clrf")
                    z = true;
                return null;
            case OperandKind.RegisterDestination:
                return Arithmetic(name, decoded, at);
            default:
                if (name == "clrw")
                    (W, z) = (0, true);
                return null;
        }
    }

    private void Literal(string name, int k)
    {
        int? before = W;
        switch (name)
        {
            case "movlw":
                W = k;
                return;
            case "andlw":
                W = k == 0 ? 0 : before & k;
                break;
            case "iorlw":
                W = before | k;
                break;
            case "xorlw":
                W = before ^ k;
                break;
            case "addlw":
                W = (before + k) & 0xFF;
                c = before + k is { } sum ? sum > 0xFF : null;
                break;
            case "sublw":
                W = (k - before) & 0xFF;
                c = before is { } w ? k >= w : null;
                break;
            default:
                W = null;
                break;
        }

        z = W is { } result ? result == 0 : null;
    }

    private bool? Bit(string name, in DecodedInstruction decoded, int at)
    {
        int mask = 1 << decoded.Second;
        if (decoded.First == FlowState.StatusRegister)
        {
            bool? flag = decoded.Second switch
            {
                Carry => c,
                Zero => z,
                _ => null,
            };
            if (name is "btfsc" or "btfss")
                return flag is { } known ? known == (name == "btfss") : null;
            if (decoded.Second == Carry)
                c = name == "bsf";
            if (decoded.Second == Zero)
                z = name == "bsf";
            return null;
        }

        int? value = Load(decoded.First, at);
        if (name is "btfsc" or "btfss")
            return value is { } bits ? (bits & mask) != 0 == (name == "btfss") : null;
        Store(decoded.First, at, name == "bsf" ? value | mask : value & ~mask);
        return null;
    }

    private bool? Arithmetic(string name, in DecodedInstruction decoded, int at)
    {
        int? value = Load(decoded.First, at),
            before = W;
        int? result = name switch
        {
            "movf" => value,
            "decf" or "decfsz" => (value - 1) & 0xFF,
            "incf" or "incfsz" => (value + 1) & 0xFF,
            "comf" => ~value & 0xFF,
            "swapf" => ((value << 4) | (value >> 4)) & 0xFF,
            "addwf" => (value + before) & 0xFF,
            "subwf" => (value - before) & 0xFF,
            "andwf" => value & before,
            "iorwf" => value | before,
            "xorwf" => value ^ before,
            _ => null,
        };
        if (name == "addwf")
            c = value + before is { } sum ? sum > 0xFF : null;
        if (name == "subwf")
            c = value - before is { } difference ? difference >= 0 : null;
        if (name is "rlf" or "rrf")
            c = null;
        if (decoded.Instruction.Affects.HasFlag(StatusFlags.Zero))
            z = result is { } known ? known == 0 : null;
        if (decoded.Second == 1)
            Store(decoded.First, at, result);
        else
            W = result;
        return decoded.Instruction.MaySkip ? (result is { } left ? left == 0 : null) : null;
    }

    private int? Load(int low, int at)
    {
        int key = Key(low, at);
        if (key < 0)
            return null;
        touches[key] = Touches(key) + 1;
        return Value(key);
    }

    private void Store(int low, int at, int? value)
    {
        if (low == FlowState.StatusRegister)
            (c, z) = (null, null);
        if (low == IndirectRegister)
        {
            values.Clear();
            foreach (int touched in touches.Keys.ToList())
                touches[touched]++;
            return;
        }

        int key = Key(low, at);
        if (key < 0)
        {
            // Not known which register of that offset it is: none of them is known any more.
            if (banksChange)
                foreach (int register in values.Keys.ToList())
                    if ((register & 0x7F) == low)
                        values.Remove(register);
            return;
        }

        touches[key] = Touches(key) + 1;
        if (value is { } known)
            values[key] = known;
        else
            values.Remove(key);
    }
}
